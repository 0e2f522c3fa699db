using Spectre.Console;
using Tussock.Evidence;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.App.Commands;

/// <summary>Who did it as a page of text: cameras first, then how far signs can be trusted, then nest by nest.</summary>
internal sealed class SignsText
{
    private const int MostNests = 100, MostClasses = 3, MostNext = 2;
    private readonly SeasonSigns signs;
    private readonly Catalogue words;
    private readonly TextWriter output;
    private readonly TextPage page;

    private SignsText(SeasonSigns signs, Catalogue words, TextWriter output)
    {
        (this.signs, this.words, this.output) = (signs, words, output);
        page = new TextPage(words, output);
    }

    internal static void Write(SeasonSigns signs, Catalogue words, TextWriter output) => new SignsText(signs, words, output).Whole();

    private void Whole()
    {
        output.WriteLine(signs.Season.Settings.Title);
        foreach (var caution in signs.Cautions) page.Line(caution);
        output.WriteLine();
        page.Line(signs.Cameras.InWords);
        Cameras();
        Compositions();
        Differences();
        output.WriteLine();
        Learning();
        Agreement();
        Nests();
    }

    private void Cameras()
    {
        var table = page.Table("text.group", "text.nests", "signs.text.with_camera", "text.lost", "signs.text.lost_with_camera", "signs.text.seen");
        foreach (var p in signs.Cameras.Pastures) TextPage.Row(table, p.Pasture.Property + ", " + p.Pasture.Name, Numbers.Whole(p.Nests), Numbers.Whole(p.WithCamera), Numbers.Whole(p.Losses), Numbers.Whole(p.LossesWithCamera), Numbers.Whole(p.Confirmed));
        page.Write(table);
    }

    private void Compositions()
    {
        var table = page.Table("signs.text.losses_of", "text.lost", "signs.text.seen", "signs.text.class", "signs.text.cameras", "signs.text.with_remains", "signs.text.naive");
        foreach (var group in signs.Groups.Where(g => g.Composition.Losses > 0))
        {
            var shown = group.Composition.Shares.Where(s => s.Share.Value > 0 || (s.Share.Value is null && s.Naive >= 0.1)).OrderByDescending(s => s.Share.Value ?? s.Naive).ThenBy(s => s.Culprit, StringComparer.Ordinal).ToArray();
            for (var i = 0; i < Math.Max(1, shown.Length); i++)
            {
                string[] head = i == 0 ? [GroupName(group), Numbers.Whole(group.Composition.Losses), Numbers.Whole(group.Composition.Confirmed)] : ["", "", ""];
                string[] rest = shown.Length == 0 ? ["–", "–", "–", "–"] : [words.Say(Culprit(shown[i].Culprit)), EstimateText.Share(shown[i].Share), EstimateText.Share(shown[i].ShareWithRemains), shown[i].Naive is { } naive ? Numbers.Percent(naive) : "–"];
                TextPage.Row(table, [.. head, .. rest]);
            }
        }

        page.Write(table);
        foreach (var why in signs.Groups.Take(1).SelectMany(g => g.Composition.Shares.Take(1)).SelectMany(s => s.Share.Why is { } none ? s.Share.Notes.Add(none) : s.Share.Notes)) page.Line(why);
        if (signs.Groups.Any(g => g.Composition is { Losses: > 0, Confirmed: < Composition.FewestConfirmed })) page.Line(Phrase.Of("signs.text.dash", ("fewest", Composition.FewestConfirmed)));
        page.Line(Phrase.Of("signs.text.naive_is"));
    }

    private void Differences()
    {
        if (signs.Differences.IsEmpty) return;
        var table = page.Table("signs.text.difference", "signs.text.class", "signs.text.points");
        foreach (var d in signs.Differences) TextPage.Row(table, GroupName(d.Group) + " − " + GroupName(d.Against), words.Say(Culprit(d.Culprit)), EstimateText.Points(d.Difference));
        page.Write(table);
        page.Line(Phrase.Of("signs.text.many_differences", ("count", signs.Differences.Length)));
    }

    private void Learning()
    {
        if (!signs.Learning.HasValue)
        {
            page.Line(signs.Learning.Why);
            return;
        }

        var (learned, scoring) = (signs.Learning.Value, signs.Learning.Value.Scoring);
        page.Line(Phrase.Of("signs.text.scores", ("nests", scoring.Nests), ("right", scoring.ShareRight), ("commonest", scoring.ShareRightCommonest), ("log", scoring.LogScore), ("log_key", learned.LogScoreKey), ("log_commonest", learned.LogScoreShares), ("brier", scoring.Brier), ("brier_commonest", learned.BrierShares)));
        page.Line(Phrase.Of("signs.text.gain", ("bits", learned.GainBits.Value!.Value), ("low", learned.GainBits.Low!.Value), ("high", learned.GainBits.High!.Value), ("p", learned.ChanceOfGain), ("trust", learned.Trust)));
        if (learned.OtherNests > 0) page.Line(Phrase.Of("signs.text.others", ("nests", learned.OtherNests), ("seasons", signs.OtherSeasons), ("same", NestOfOtherSeason.SameProperty), ("elsewhere", NestOfOtherSeason.Elsewhere)));
        if (learned.TellsNothing) page.Line(Phrase.Of("signs.learning.tells_nothing"));
        if (learned.TellsNothing && !signs.CamerasNeeded.HasValue) page.Line(signs.CamerasNeeded.Why);
        else if (learned.TellsNothing) page.Line(Phrase.Of("signs.learning.needed", ("nests", learned.NestsNeeded.Value), ("cameras", signs.CamerasNeeded.Value), ("bits", Evidence.Learning.WorthwhileBits)));
        var bands = page.Table("signs.text.band", "text.nests", "signs.text.mean_chance", "signs.text.was_right");
        foreach (var b in learned.Scoring.Bands) TextPage.Row(bands, Numbers.PercentRange(b.From, b.To), Numbers.Whole(b.Nests), Numbers.Percent(b.MeanChance), EstimateText.Share(b.Right) + (b.IsOff ? " *" : ""));
        page.Write(bands);
        if (learned.Scoring.Bands.Any(b => b.IsOff)) page.Line(Phrase.Of("signs.text.off"));
        var confusion = page.Table("report.col.read", "report.col.confirmed", "text.nests");
        foreach (var c in scoring.Confusions) TextPage.Row(confusion, c.Read == Scoring.CannotTell ? words.Say("signs.reading.cannot_tell") : words.Say(Culprit(c.Read)), words.Say(Culprit(c.Confirmed)), Numbers.Whole(c.Nests));
        page.Write(confusion);
        Kappa("signs.text.kappa_cameras", learned.ReadingAgainstCameras);
    }

    private void Kappa(string key, Estimate kappa)
    {
        if (kappa is { Value: { } value, Low: { } low, High: { } high }) page.Line(Phrase.Of(key, ("kappa", value), ("low", low), ("high", high)));
        else page.Line(Phrase.Of("signs.text.kappa_why", ("why", kappa.Why!)));
    }

    private void Agreement()
    {
        if (signs.Agreement.IsEmpty)
        {
            page.Line(Phrase.Of("signs.text.one_observer"));
        }
        else
        {
            var table = page.Table("report.col.signs", "text.nests", "signs.text.same", "signs.text.kappa");
            foreach (var a in signs.Agreement) TextPage.Row(table, words.Say(Phrase.Of("signs." + a.Sign)), Numbers.Whole(a.Nests), a.SharedReading is { } same ? Numbers.Percent(same) : "–", a.Kappa is { Value: { } k } ? Numbers.Fixed(k, 2) + (a.Kappa is { Low: { } low, High: { } high } ? " (" + Numbers.Fixed(low, 2) + "–" + Numbers.Fixed(high, 2) + ")" : "") : words.Say(a.Kappa.Why!));
            page.Write(table);
        }

        if (signs.GuessesAgainstCameras.Value is not null) Kappa("signs.text.kappa_guesses", signs.GuessesAgainstCameras);
    }

    private void Nests()
    {
        output.WriteLine();
        foreach (var nest in signs.Nests.Take(MostNests))
        {
            var after = nest.Reasons.After;
            var leading = string.Join(", ", after.Culprits[..^1].Zip(after.Chances).OrderByDescending(c => c.Second).Take(MostClasses).Append((after.Culprits[^1], after.Chances[^1])).Select(c => words.Say(Culprit(c.Item1)) + " " + Numbers.Chance(c.Item2)));
            output.WriteLine(nest.Fate.Nest.Transect.Name + "-" + Numbers.Whole(nest.Fate.Nest.Number) + ": " + leading + (nest.Confirmed is { } seen ? "; " + words.Say(Phrase.Of("signs.text.camera_saw", ("culprit", Culprit(seen)))) : ""));
            if (nest.Visitors is Visitors.SeveralSeen or Visitors.SignsOfSeveral) page.Line(Phrase.Of(nest.Visitors == Visitors.SeveralSeen ? "signs.visitors.several_seen" : "signs.visitors.signs_of_several"), "  ");
            if (after.SignsRead == 0) page.Line(Phrase.Of("signs.text.no_remains"), "  ");
            foreach (var reason in nest.Reasons.Signs) page.Line(reason.InWords(after), "  ");
            if (nest.Confirmed is null && nest.Reasons.Next.Any(n => n.Bits >= 0.005)) page.Line(Phrase.Of("signs.text.next", ("signs", nest.Reasons.Next.Where(n => n.Bits >= 0.005).Take(MostNext).Select(n => Phrase.Of("signs.text.sign_bits", ("sign", Phrase.Of("signs." + n.Sign)), ("bits", n.Bits))).ToArray())), "  ");
        }

        if (signs.Nests.Length > MostNests) page.Line(Phrase.Of("signs.text.more_nests", ("count", signs.Nests.Length - MostNests)));
    }

    private static Phrase Culprit(string token) => Phrase.Of("signs.culprit." + SignCatalogue.Standard.Culprits[SignCatalogue.Standard.CulpritIndex(token)]);

    private string GroupName(LossGroup group) => group.Level switch
    {
        LossLevel.Season => words.Say("text.whole_season"),
        LossLevel.Pasture => group.Property + ", " + group.Name,
        LossLevel.Fortnight => words.Say("signs.fortnight." + group.Name),
        _ => group.Name,
    };
}
