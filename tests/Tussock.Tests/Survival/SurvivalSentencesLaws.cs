using FsCheck.Xunit;
using Tussock.Fates;
using Tussock.Survival;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Survival;

[Properties(Arbitrary = [typeof(InventedNests)])]
public class SurvivalSentencesLaws
{
    [Property]
    public void Whatever_is_said_beside_a_number_has_a_sentence_and_a_missing_number_a_reason(Invented season)
    {
        foreach (var rows in new[] { season.Rows, [.. season.Rows.Where(r => r.Line == 0)], [.. season.Rows.Where(r => r.B < 20)], [.. season.Rows.Where(r => r.A < 20)] })
        {
            var spans = NestRows.Spans(rows);
            var share = CountedShare.Of(spans, Trial.Usual, TrialDay.End);
            var first = CountedShare.Of(spans, Trial.Usual, TrialDay.FirstCheck);
            var fit = TwoPiece.Fit(spans, Trial.Usual);
            Estimate[] all = [share.Share, first.Share, fit.Survival28, DailySurvival.Of(spans), Mayfield.Of(spans), PredationOnly.Of(spans, Trial.Usual), .. TwoPiece.DailySurvivalByFortnight(spans, Trial.Usual)];
            Assert.All(all, e => Assert.True(e.Why is not null || (e.Value, e.Low, e.High) is (not null, not null, not null)));
            var said = all.SelectMany(e => e.Notes.Append(e.Why)).Concat([fit.Why, fit.PhiFrom, fit.WhyNoTest, fit.Limits.Why, share.WhyTwoPieceBeside, first.WhyTwoPieceBeside, share.EffectiveNests.Why]);
            Assert.All(said.OfType<Phrase>(), p => Assert.NotEmpty(Catalogue.English.Say(p)));
        }
    }
}
