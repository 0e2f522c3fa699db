using System.Globalization;
using FsCheck.Xunit;
using Tussock.Models;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Models;

public class AkaikeTests
{
    [Fact]
    public void Too_few_rows_give_no_number_and_a_reason()
    {
        var ranked = Akaike.Rank([new("large", 4, -1), new("small", 1, -3)], 5);
        Assert.Equal(["small", "large"], ranked.Select(r => r.Model.Name));
        Assert.Equal([1.0, 0], ranked.Select(r => r.Weight));
        Assert.Equal((null, null), (ranked[1].Delta, ranked[1].EvidenceRatio));
        Assert.NotEmpty(Catalogue.English.Say(ranked[1].Aicc.Why!));
        Assert.All(Akaike.Rank([new("large", 4, -1)], 5), r => Assert.Equal(0, r.Weight));
    }

    [Fact]
    public void A_model_beyond_any_evidence_has_no_ratio_and_no_weight()
    {
        var ranked = Akaike.Rank([new("hopeless", 1, -2000), new("good", 1, -10)], 50);
        Assert.Equal((0.0, null), (ranked[1].Weight, ranked[1].EvidenceRatio));
    }

    [Fact]
    public void An_average_at_the_end_has_no_limits_and_a_reason()
    {
        var all = ModelAverage.Survival([(0.4, 1, 0), (0.6, 1, 0)]);
        Assert.Equal((1.0, null, null), (all.Value, all.Low, all.High));
        Assert.NotEmpty(Catalogue.English.Say(all.Why!));
    }

    [Fact]
    public void One_model_keeps_its_own_standard_error()
    {
        var (value, se) = ModelAverage.Of([(1, 0.6, 0.05)]);
        Assert.Equal((0.6, 0.05), (value, se));
    }
}

public class AkaikeLaws
{
    [Property]
    public void Weights_add_to_one_and_an_evidence_ratio_is_a_ratio_of_weights(byte[] seeds)
    {
        if (seeds.Length == 0) return;
        var models = seeds.Select((s, i) => new ComparedModel(i.ToString(CultureInfo.InvariantCulture), 1 + (s % 6), -100 - (s / 10.0))).ToArray();
        var ranked = Akaike.Rank(models, 60);
        Near.Is(1, ranked.Sum(r => r.Weight), 1e-12);
        Assert.All(ranked, r => Near.Is(r.EvidenceRatio!.Value, ranked[0].Weight / r.Weight, 1e-9));
        Assert.Equal(ranked.Select(r => r.Aicc.Value), ranked.Select(r => r.Aicc.Value).Order());
    }

    [Property]
    public void Models_that_differ_widen_the_average(byte a, byte b)
    {
        var (first, second) = ((a + 1) / 257.0, (b + 1) / 257.0);
        var (value, se) = ModelAverage.Of([(0.5, first, 0.05), (0.5, second, 0.05)]);
        Assert.True(se >= 0.05 - 1e-12);
        Assert.InRange(value, Math.Min(first, second) - 1e-12, Math.Max(first, second) + 1e-12);
        var limits = ModelAverage.Survival([(0.5, first, 0.05), (0.5, second, 0.05)]);
        Assert.InRange(value, limits.Low!.Value, limits.High!.Value);
    }
}

/// <summary>The cement data: 15 linear models, their AICc and weights, and the averaged mean (ordinary least squares is this test's own).</summary>
public class AkaikeChecks
{
    private const int Rows = 13;

    private static double[][] Cement => [.. File.ReadLines(Path.Combine(Checks.Folder("published-values"), "data", "cement.csv")).Skip(1).Select(l => l.Split(',').Select(c => double.Parse(c, CultureInfo.InvariantCulture)).ToArray())];

    private static string[] Models => [.. File.ReadLines(Path.Combine(Checks.Folder("published-values"), "data", "cement_aicc.csv")).Skip(1).Select(l => l.Split(',')[0].Trim('"'))];

    [Fact]
    public void The_table_of_the_cement_models_is_the_published_one()
    {
        var fits = Models.Select(m => (Name: m, Fit: LeastSquares(m))).ToArray();
        var ranked = Akaike.Rank([.. fits.Select(f => new ComparedModel(f.Name, f.Name.Length + 2, -Rows / 2.0 * Math.Log(f.Fit.Rss / Rows)))], Rows);
        Assert.Equal(15, ranked.Length);
        foreach (var row in ranked)
        {
            double Value(string of) => PublishedValues.Of("cement", "{" + row.Model.Name + "} " + of);
            Near.Is(Value("K"), row.Model.Parameters, 0);
            Near.Is(Value("AICc (n log(RSS/n) form)"), row.Aicc.Value, 1e-10);
            Near.Is(Value("delta"), row.Delta, 1e-8, 1);
            Near.Is(Value("weight"), row.Weight, 1e-8);
        }

        Assert.Equal(Models, ranked.Select(r => r.Model.Name));
    }

    [Fact]
    public void The_average_over_the_cement_models_is_the_published_one()
    {
        var fits = Models.ToDictionary(m => m, LeastSquares);
        var ranked = Akaike.Rank([.. fits.Select(f => new ComparedModel(f.Key, f.Key.Length + 2, -Rows / 2.0 * Math.Log(f.Value.Rss / Rows)))], Rows);
        var (value, se) = ModelAverage.Of([.. ranked.Select(r => (r.Weight, fits[r.Model.Name].Mean, fits[r.Model.Name].Se))]);
        Near.Is(PublishedValues.Of("cement.avg", "model-averaged mean at x=(10,50,10,20), 15 models"), value, 1e-10);
        Near.Is(PublishedValues.Of("cement.avg", "unconditional se (1997/2002 form: sum w sqrt(v+(th-av)^2))"), se, 1e-8);
    }

    /// <summary>Least squares of y on the named columns by Gauss–Jordan elimination, with the fitted mean at x = (10, 50, 10, 20).</summary>
    private static (double Rss, double Mean, double Se) LeastSquares(string model)
    {
        var at = new[] { 10.0, 50, 10, 20 };
        double[] Row(double[] x) => [1, .. model.Select(c => x[c - '1'])];
        var data = Cement;
        var k = model.Length + 1;
        var system = new double[k, 2 * k + 1];
        foreach (var row in data)
        {
            var x = Row(row);
            for (var i = 0; i < k; i++)
            {
                for (var j = 0; j < k; j++) system[i, j] += x[i] * x[j];
                system[i, 2 * k] += x[i] * row[4];
            }
        }

        for (var i = 0; i < k; i++) system[i, k + i] = 1;
        for (var i = 0; i < k; i++)
        {
            var pivot = system[i, i];
            for (var j = 0; j <= 2 * k; j++) system[i, j] /= pivot;
            for (var r = 0; r < k; r++)
            {
                if (r == i) continue;
                var factor = system[r, i];
                for (var j = 0; j <= 2 * k; j++) system[r, j] -= factor * system[i, j];
            }
        }

        double Fitted(double[] x) => Enumerable.Range(0, k).Sum(i => x[i] * system[i, 2 * k]);
        var rss = data.Sum(r => Math.Pow(r[4] - Fitted(Row(r)), 2));
        var here = Row(at);
        var spread = Enumerable.Range(0, k).Sum(i => Enumerable.Range(0, k).Sum(j => here[i] * system[i, k + j] * here[j]));
        return (rss, Fitted(here), Math.Sqrt(rss / (data.Length - k) * spread));
    }
}
