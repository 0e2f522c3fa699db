using FsCheck.Xunit;
using Tussock.Fates;
using Tussock.Survival;
using Xunit;

namespace Tussock.Tests.Survival;

public class PredationOnlyTests
{
    [Fact]
    public void Other_losses_leave_the_risk_set_at_their_last_intact_visit()
    {
        NestRow[] rows = [.. NestRows.Line(0, 4, 2), .. NestRows.Line(1, 3, 1), new NestRow(0, 0, 14), new NestRow(1, 14, 28, Cause: Cause.Trampled), new NestRow(1, 0, 14, 9, Cause.NotRecorded)];
        NestRow[] left = [.. rows[..^2], new NestRow(1, 14), new NestRow(1, 0)];
        var predation = PredationOnly.Of(NestRows.Spans(rows), Trial.Usual);
        var by = TwoPiece.Fit(NestRows.Spans(left), Trial.Usual).Survival28;
        Assert.Equal((by.Value, by.Low, by.High), (predation.Value, predation.Low, predation.High));
        Assert.Equal("causes.predation_only", predation.Notes[0].Key);
        Assert.True(predation.Value > TwoPiece.Fit(NestRows.Spans(rows), Trial.Usual).S28);
    }

    [Fact]
    public void The_nests_given_are_left_as_they_are()
    {
        var spans = NestRows.Spans(new NestRow(0, 14, 28, Cause: Cause.Flooded), new NestRow(1, 28));
        PredationOnly.Of(spans, Trial.Usual);
        Assert.Equal(28, spans.FirstLost[0]);
    }
}

public class CumulativeIncidenceTests
{
    [Fact]
    public void Losses_inside_one_piece_divide_its_loss_by_their_numbers()
    {
        // 12 nests; by day 14: 2 taken, 1 trampled; of the 9 others by day 28: 1 taken, 2 with no cause recorded.
        NestRow[] rows =
        [
            .. Enumerable.Repeat(new NestRow(0, 0, 14), 2), new NestRow(0, 0, 14, Cause: Cause.Trampled), new NestRow(1, 14, 28),
            .. Enumerable.Repeat(new NestRow(1, 14, 28, Cause: Cause.NotRecorded), 2), .. Enumerable.Repeat(new NestRow(1, 28), 6),
        ];
        var shares = CumulativeIncidence.Of(NestRows.Spans(rows), Trial.Usual).Value;
        Assert.Equal([(Cause.Depredated, 3), (Cause.Trampled, 1), (Cause.NotRecorded, 2)], shares.Select(s => (s.Cause, s.Losses)));
        Near.Is(3 / 12.0, shares[0].Share, 1e-12);
        Near.Is(1 / 12.0, shares[1].Share, 1e-12);
        Near.Is(2 / 12.0, shares[2].Share, 1e-12);
    }

    [Fact]
    public void A_loss_that_spans_the_first_check_leans_to_the_piece_in_which_its_cause_is_seen()
    {
        NestRow[] sure = [.. Enumerable.Repeat(new NestRow(0, 0, 14), 4), .. Enumerable.Repeat(new NestRow(1, 14, 28, Cause: Cause.Trampled), 4), .. Enumerable.Repeat(new NestRow(1, 28), 6)];
        var spans = NestRows.Spans([.. sure, new NestRow(0, 0, 28), new NestRow(0, 0, 28)]);
        var fit = TwoPiece.Fit(spans, Trial.Usual);
        var shares = CumulativeIncidence.Of(spans, Trial.Usual).Value;
        Near.Is(1 - fit.S14!.Value, shares[0].Share, 1e-9);
        Near.Is(fit.S14!.Value - fit.S28!.Value, shares[1].Share, 1e-9);
    }

    [Fact]
    public void Nothing_lost_has_no_cause_and_all_lost_at_once_plain_shares()
    {
        Assert.Empty(CumulativeIncidence.Of(NestRows.Spans(new NestRow(0, 28)), Trial.Usual).Value);
        Assert.False(CumulativeIncidence.Of(NestSpans.Empty, Trial.Usual).HasValue);
        var lost = CumulativeIncidence.Of(NestRows.Spans(new NestRow(0, 0, 28), new NestRow(0, 0, 28, Cause: Cause.Hail)), Trial.Usual).Value;
        Assert.Equal([0.5, 0.5], lost.Select(s => s.Share));
    }
}

[Properties(Arbitrary = [typeof(InventedNests)])]
public class CumulativeIncidenceLaws
{
    [Property]
    public void Causes_sum_to_what_the_two_piece_fit_says_is_lost(Invented season)
    {
        var fit = TwoPiece.Fit(season.Spans, Trial.Usual);
        var found = CumulativeIncidence.Of(season.Spans, Trial.Usual);
        Assert.Equal(fit.S28.HasValue, found.HasValue);
        if (fit.S28 is not { } survival) return;
        var shares = found.Value;
        Near.Is(1 - survival, shares.Sum(s => s.Share), 1e-13, 1);
        Assert.All(shares, s => Assert.InRange(s.Share, 0, 1));
    }

    [Property]
    public void Where_predators_are_the_only_cause_predation_alone_is_the_two_piece_estimate(Invented season)
    {
        var spans = NestRows.Spans(season.Rows.Select(r => r with { Cause = Cause.Depredated }));
        var (alone, all) = (PredationOnly.Of(spans, Trial.Usual), TwoPiece.Fit(spans, Trial.Usual).Survival28);
        Assert.Equal((all.Value, all.Low, all.High), (alone.Value, alone.Low, alone.High));
        var found = CumulativeIncidence.Of(spans, Trial.Usual);
        Assert.Equal(all.Value.HasValue, found.HasValue);
        if (all.Value is { } survival && found.Value is { Length: > 0 } shares) Near.Is(1 - survival, shares.Single().Share, 1e-13, 1);
    }
}
