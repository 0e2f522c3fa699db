/** Runs every case of vectors.json through the phone's modules. @param {any} vectors @param {(name: string) => Promise<any>} load a module by name @returns {Promise<{ cases: number, wrong: string[] }>} */
export async function wrong(vectors, load) {
  const [points, plane, steps, way, days, score] = await Promise.all(['wayback/points', 'wayback/plane', 'wayback/steps', 'wayback/way', 'wayback/days', 'reading/score'].map(load));
  const found = [];
  let cases = 0;
  const same = (what, given, expected, seen) => { if (JSON.stringify(expected) !== JSON.stringify(seen)) found.push(`${what} of ${JSON.stringify(given)}: ${JSON.stringify(seen)}, the core says ${JSON.stringify(expected)}`); };
  const near = (what, given, expected, seen, by) => { if (expected === null || seen === null || seen === undefined ? expected !== (seen ?? null) : !(Math.abs(expected - seen) <= by)) found.push(`${what} of ${JSON.stringify(given)}: ${seen}, the core says ${expected}`); };
  const turned = (what, given, expected, seen, by) => near(what, given, 0, expected === null || seen === null ? (expected === seen ? 0 : NaN) : Math.abs(((seen - expected + 540) % 360) - 180), by);
  const each = (name, run) => { for (const c of vectors[name]) { cases++; run(c); } };

  each('points', c => same('point', c.degrees, c.point, points.point(c.degrees)));
  each('directions', c => { same('degrees', c.text, c.degrees, points.degreesOf(c.text)); same('opposite', c.text, c.opposite, points.opposite(c.text)); });
  each('readings', c => { const seen = points.circular(c.readings); turned('mean', c.readings, c.mean, seen.mean, 1e-6); near('spread', c.readings, c.spread, seen.spread, 1e-5); });
  each('steps', c => { const seen = steps.stepOf(c.walks); near('step', c.walks, c.step, seen.step, 1e-9); near('spread', c.walks, c.spread, seen.spread, 1e-9); same('walks', c.walks, c.count, seen.walks); });
  each('ways', c => {
    const seen = way.places({ legs: c.legs, sense: c.sense, isMagnetic: c.is_magnetic }, c.step, c.declination);
    same('senses', c, c.places.map(p => p.sense), seen.map(p => p.sense));
    c.places.forEach((p, i) => {
      same('legs', c, p.legs, seen[i].legs.map(l => ({ steps: l.steps, direction: l.direction })));
      near('distance', c, p.distance, seen[i].distance, 1e-6);
      turned('bearing', c, p.bearing, seen[i].bearing, 1e-6);
      same('point', c, p.point, seen[i].point);
    });
  });
  each('fixes', c => { const go = plane.between(c.from, c.to); near('distance', c, c.distance, plane.distance(go), 1e-3); turned('bearing', c, c.bearing, plane.bearing(go), .02); });
  each('ends', c => { const at = plane.placeAt(c.from, plane.along(c.bearing, c.metres)); near('latitude', c, c.to.lat, at.lat, 1e-8); near('longitude', c, c.to.lon, at.lon, 1e-8); });
  each('days', c => { same('days', c, c.days, days.daysBetween(c.from, c.to)); same('date', c, c.to, days.plusDays(c.from, c.days)); });
  each('checks', c => same('checks', c.set_on, c.checks, days.checksOf(c.set_on, c.days, c.window)));
  each('penalties', c => near('penalty', c, c.penalty, score.penalty(c.said, c.truth), 1e-9));
  each('calibrations', c => near('apart', c, c.apart, score.apart(score.bands(c.answers)), 1e-9));
  return { cases, wrong: found };
}
