using System.Buffers;
using System.Text.Json;
using Tussock.Evidence;
using Tussock.Evidence.Practice;
using Tussock.Fieldwork;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Evidence.Practice;

public class PracticeSetTests
{
    private static readonly PracticeSet Many = PracticeSet.Of(7, 1500);

    [Fact]
    public void The_tables_of_the_invented_place_are_chances()
    {
        var place = InventedNests.Standard;
        Assert.Equal(1, place.Shares.Sum(), 12);
        Assert.Equal(place.Shares.Length, place.Catalogue.Culprits.Length);
        for (var k = 0; k < place.Shares.Length; k++)
        {
            foreach (var sign in SignCatalogue.Standard.Signs)
            {
                if (place.Chances(k, sign.Sign) is not { } chances) continue;
                Assert.Equal(sign.Values.Length, chances.Length);
                Assert.Equal(1, chances.Sum(), 12);
                Assert.All(chances, c => Assert.InRange(c, 0, 1));
            }
        }

        // By hand: "most of the shell" .7 and "few pieces" .25 for skunks leave .05 for the third value; a class without tables is even.
        Assert.Equal(0.05, place.Chances(0, "shell_present")!.Value[0], 12);
        Assert.Equal(1 / 3.0, place.Chances(7, "shell_present")!.Value[0], 12);
    }

    [Fact]
    public void The_same_seed_gives_the_same_bits_and_fewer_cases_are_the_first_of_more()
    {
        static string Of(PracticeSet set) => JsonSerializer.Serialize(set.Cases.Select(c => new { c.Remains, c.Truth, Bits = c.Belief.Chances.Select(BitConverter.DoubleToInt64Bits), c.Percents, Why = c.Why.Select(Catalogue.English.Say) }));
        Assert.Equal(Of(PracticeSet.Of(42)), Of(PracticeSet.Of(42)));
        Assert.NotEqual(Of(PracticeSet.Of(42)), Of(PracticeSet.Of(43)));
        Assert.Equal(Of(PracticeSet.Of(42, 5)), Of(PracticeSet.Of(42) with { Cases = PracticeSet.Of(42).Cases[..5] }));
    }

    [Fact]
    public void Beliefs_add_to_1_keep_not_on_the_list_and_are_said_in_whole_percents_that_add_to_100()
    {
        Assert.Equal(100, Many.Percents.Sum());
        Assert.All(Many.Cases, c =>
        {
            Assert.Equal(1, c.Belief.Chances.Sum(), 12);
            Assert.True(c.Belief.Of("other") > 0);
            Assert.Equal(Many.Culprits, c.Belief.Culprits);
            Assert.Equal(100, c.Percents.Sum());
            Assert.All(c.Percents.Zip(c.Belief.Chances), p => Assert.InRange(p.First - (100 * p.Second), -1, 1));
            Assert.InRange(c.Why.Length, 0, PracticeSet.MostReasons);
            Assert.InRange(c.Truth, 0, Many.Culprits.Length - 1);
        });
        Assert.Equal([34, 33, 33], WholePercents.Of([1 / 3.0, 1 / 3.0, 1 / 3.0]));
        Assert.Equal([50, 49, 1], WholePercents.Of([0.497, 0.494, 0.009]));
    }

    [Fact]
    public void Culprits_come_as_often_as_the_place_has_them()
    {
        // Draws with too few signs are drawn again, which snakes suffer more than others: four standard errors and two points.
        var shares = InventedNests.Standard.Shares;
        for (var k = 0; k < shares.Length; k++) Assert.InRange(Many.Cases.Count(c => c.Truth == k) / (double)Many.Cases.Length, shares[k] - (4 * Math.Sqrt(shares[k] / Many.Cases.Length)) - 0.02, shares[k] + (4 * Math.Sqrt(shares[k] / Many.Cases.Length)) + 0.02);
    }

    [Fact]
    public void What_lies_there_can_lie_together()
    {
        Assert.All(Many.Cases, c =>
        {
            string? Of(string sign) => c.Remains.Where(r => r.Sign == sign).Select(r => r.Value).SingleOrDefault();
            Assert.True(c.Remains.Length >= 3);
            if (Of("shell_present") is null or "none") Assert.Null(Of("fragment_size") ?? Of("fragment_spread") ?? Of("opening") ?? Of("edges") ?? Of("bite") ?? Of("peck_holes"));
            if (Of("fragment_size") != "whole egg with hole") Assert.Null(Of("opening") ?? Of("peck_holes"));
            if (Of("fragment_size") is "whole egg with hole" or "whole egg bitten") Assert.Equal("most of the shell", Of("shell_present"));
            Assert.NotEqual("none", Of("opening"));
        });
    }

    /// <summary>Practice that taught the wrong thing would be worse than none: the belief shown as the program's is worth having and means what it says.</summary>
    [Fact]
    public void The_programs_belief_beats_knowing_what_is_common_and_is_right_about_as_often_as_it_says()
    {
        var (said, truths) = (Many.Cases.Select(c => c.Belief.Chances).ToArray(), Many.Cases.Select(c => c.Truth).ToArray());
        var common = Scoring.BrierOf([.. truths.Select(_ => InventedNests.Standard.Shares)], truths);
        var program = Scoring.BrierOf(said, truths);
        var apart = Scoring.CalibrationErrorOf([.. said.SelectMany(c => c)], [.. said.SelectMany((c, i) => c.Select((_, k) => k == truths[i]))], 5);
        TestContext.Current.TestOutputHelper?.WriteLine($"penalty: program {50 * program:0.0}, common {50 * common:0.0}; apart {100 * apart:0.0} points");
        Assert.True(program < common - 0.2);
        Assert.InRange(apart, 0, 0.04);
    }

    [Fact]
    public void A_phone_gets_twenty_cases_in_few_bytes_and_no_picture_twice()
    {
        var buffer = new ArrayBufferWriter<byte>();
        using (var w = new Utf8JsonWriter(buffer))
        {
            w.WriteStartObject();
            FieldPractice.Write(w, new Guid("01890000-0000-7000-8000-00000000002a"), FieldCases.None, (to, name, phrase) =>
            {
                if (name is not null) to.WritePropertyName(name);
                to.WriteStringValue(Catalogue.English.Say(phrase));
            });
            w.WriteEndObject();
        }

        using var read = JsonDocument.Parse(buffer.WrittenMemory);
        var practice = read.RootElement.GetProperty("practice");
        Assert.Equal(PracticeSet.Usual, practice.GetProperty("cases").GetArrayLength());
        Assert.All(practice.GetProperty("cases").EnumerateArray(), c => Assert.All(c.GetProperty("remains").EnumerateArray(), r => Assert.NotNull(SignCatalogue.Standard.Find(r[0].GetString()!, r[1].GetString()!))));
        Assert.DoesNotContain("svg", practice.GetRawText(), StringComparison.Ordinal);
        TestContext.Current.TestOutputHelper?.WriteLine($"{buffer.WrittenCount} bytes");
        Assert.InRange(buffer.WrittenCount, 1, 14_000);
        Assert.NotEqual(FieldPractice.SeedOf(new Guid("01890000-0000-7000-8000-00000000002a")), FieldPractice.SeedOf(new Guid("01890000-0000-7000-8000-00000000002b")));
    }
}
