// Acts out fault stories: two phones a story, each on a thread that is killed without warning. Every change that a phone
// answered for is told to the test before anything else is asked of that phone, so that the test outlives the browser.
window.stories = (() => {
  const base = location.href.split('#')[0];
  const source = new Blob([window.phoneWorker], { type: 'text/javascript' });
  const address = URL.createObjectURL(source);
  const wait = ms => new Promise(r => setTimeout(r, ms));

  class PhoneThread {
    constructor(name, random) { this.name = name; this.random = random; this.off = Math.floor((random() - .5) * 20 * 864e5); }

    /** A phone has the app's files on itself; here they come from the desk, which may be away just now. */
    async start() {
      for (let turn = 0; ; turn++) {
        try { return await this.open(); } catch (fault) {
          this.worker.terminate();
          if (turn > 400 || !/Failed to fetch/.test(String(fault))) throw fault;
          await wait(50);
        }
      }
    }

    open() {
      this.waiting = new Map(); this.n = 0;
      this.worker = new Worker(address, { type: 'module' });
      this.worker.onmessage = ({ data }) => { const { resolve, reject } = this.waiting.get(data.n); this.waiting.delete(data.n); data.ok ? resolve(data) : reject(new Error(this.name + ': ' + data.why)); };
      this.worker.onerror = fault => { for (const { reject } of this.waiting.values()) reject(new Error(this.name + ': ' + fault.message)); };
      return this.ask('open', { base, name: this.name, seed: Math.floor(this.random() * 2 ** 31), off: this.off });
    }

    ask(ask, more = {}) {
      const n = ++this.n, answer = new Promise((resolve, reject) => this.waiting.set(n, { resolve, reject }));
      this.worker.postMessage({ n, ask, ...more });
      return answer.then(async said => {
        if (said.entries?.length) await window.told(said.entries.map(c => c.id));
        if (said.photo) await window.pictured(said.photo);
        return said;
      });
    }

    /** Dies now, whatever it is doing. */
    kill() {
      this.worker.terminate();
      for (const { reject } of this.waiting.values()) reject(new Error('killed'));
      this.waiting.clear();
    }

    /** Asks and dies a moment later: the answer may come or not. */
    async killed(ask) {
      this.ask(ask).catch(() => {});
      await wait(this.random() * 12);
      this.kill();
      await this.start();
    }

    /** The desk may be away just now: again until it is there. */
    async patiently(ask, more) {
      for (let turn = 0; ; turn++) {
        try { return await this.ask(ask, more); } catch (fault) { if (turn > 200 || !/Failed to fetch|NetworkError|DeskSaidNo|TypeError/.test(String(fault))) throw fault; await wait(50); }
      }
    }

    async paired() {
      const { key } = await this.start();
      if (!key) await this.patiently('pair', { name: this.name });
    }
  }

  async function step(phone, random) {
    const dice = random();
    if (dice < .5) await phone.ask('touch');
    else if (dice < .58) await phone.ask('undo');
    else if (dice < .61) await phone.ask('photo', { size: 1 + Math.floor(random() * 4000) });
    else if (dice < .78) await phone.ask('send');
    else if (dice < .82) await phone.ask('late');
    else if (dice < .86) { phone.off = Math.floor((random() - .5) * 20 * 864e5); await phone.ask('clock', { off: phone.off }); }
    else if (dice < .91) { await phone.ask('full', { is: true }); for (let n = 0; n < 3; n++) await phone.ask('touch'); await phone.ask('full', { is: false }); }
    else if (dice < .925) await window.brought((await phone.ask('file')).text);
    else await phone.killed(random() < .5 ? 'touch' : 'send');
  }

  async function act(seed) {
    const random = seeded(seed * 7919);
    const phones = ['a', 'b'].map(n => new PhoneThread(`story ${seed} ${n}`, random));
    await Promise.all(phones.map(p => p.paired()));
    const run = async phone => { for (let n = 6 + Math.floor(random() * 8); n > 0; n--) await step(phone, random); };
    await Promise.all(phones.map(run));
    return heal(phones);
  }

  /** The network is whole again: everything comes through, and both end alike. */
  async function heal(phones) {
    for (let turn = 0; turn < 2; turn++) {
      for (const phone of phones) {
        await phone.patiently('late');
        const end = await phone.patiently('heal');
        if (turn === 1 && (end.left > 0 || end.photos > 0)) return `${phone.name}: ${end.left} changes and ${end.photos} photos left, ${end.refused}`;
      }
    }
    const states = await Promise.all(phones.map(p => p.ask('state')));
    for (const phone of phones) phone.kill();
    // Another story may have sent meanwhile: alike is asked of equal positions.
    return states[0].position === states[1].position && states[0].rows !== states[1].rows ? `${phones[0].name}: the two phones differ` : '';
  }

  return {
    /** Acts stories from..to, several at a time. @returns what went wrong */
    async act(from, to, atOnce) {
      const wrong = [];
      let next = from;
      const run = async () => { while (next < to) { const seed = next++; try { const end = await act(seed); if (end) wrong.push(end); else await window.ended(seed); } catch (fault) { wrong.push(`story ${seed}: ${fault}`); } } };
      await Promise.all(Array.from({ length: atOnce }, run));
      return wrong;
    },
    /** After the browser died: the phones of a story are opened again and heal. */
    async mend(seed) {
      const random = seeded(seed), phones = ['a', 'b'].map(n => new PhoneThread(`story ${seed} ${n}`, random));
      await Promise.all(phones.map(p => p.paired()));
      return heal(phones);
    },
    /** What a phone that never was here sees. */
    async fresh() {
      const phone = new PhoneThread('fresh ' + Math.random(), Math.random);
      await phone.paired();
      await phone.ask('heal');
      return (await phone.ask('state')).rows;
    },
  };
})();
