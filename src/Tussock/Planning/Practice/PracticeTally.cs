using System.Collections.Immutable;

namespace Tussock.Planning.Practice;

/// <summary>What somebody concluded about several seasons for practice, added up; each season counts once.</summary>
/// <param name="Seasons">Seasons.</param>
/// <param name="Right">Conclusions about survival on the side where the truth is.</param>
/// <param name="Wrong">On the other side.</param>
/// <param name="ProgramRight">The same of the program's calls.</param>
/// <param name="ProgramWrong">The same of the program's calls.</param>
/// <param name="Penalty">Mean penalty of the percents.</param>
/// <param name="ProgramPenalty">Mean penalty of the program's chances, over the seasons where it has one; null where it has none.</param>
/// <param name="Sure">How sure the percents were on average of the side that they favour, in (0.5, 1]; null where every one was even.</param>
/// <param name="Favoured">Seasons whose percent favours a side.</param>
/// <param name="SideWas">In how many of these the truth was there.</param>
public sealed record PracticeTally(int Seasons, int Right, int Wrong, int ProgramRight, int ProgramWrong, double Penalty, double? ProgramPenalty, double? Sure, int Favoured, int SideWas)
{
    /// <summary>Seasons that settled nothing.</summary>
    public int Open => Seasons - Right - Wrong;

    /// <summary>Adds up; null where nothing was concluded.</summary>
    /// <param name="opened">Opened seasons, the earliest first: of two with the same code the first counts, for the second was known.</param>
    public static PracticeTally? Of(IEnumerable<PracticeOpened> opened)
    {
        ArgumentNullException.ThrowIfNull(opened);
        ImmutableArray<BenchmarkOpened> all = [.. opened.DistinctBy(o => o.Season.Code, StringComparer.Ordinal).Select(o => o.Survival)];
        if (all.IsEmpty) return null;
        int Count(Func<BenchmarkOpened, ConclusionEnd> of, ConclusionEnd end) => all.Count(b => of(b) == end);
        var program = all.Where(b => b.ProgramPenalty is not null).ToArray();
        var favoured = all.Where(b => b.Said.ChanceAbove != 0.5).ToArray();
        return new PracticeTally(all.Length, Count(b => b.End, ConclusionEnd.Right), Count(b => b.End, ConclusionEnd.Wrong), Count(b => b.ProgramEnd, ConclusionEnd.Right), Count(b => b.ProgramEnd, ConclusionEnd.Wrong),
            all.Average(b => b.Penalty), program.Length == 0 ? null : program.Average(b => b.ProgramPenalty!.Value), 
            favoured.Length == 0 ? null : favoured.Average(b => Math.Max(b.Said.ChanceAbove, 1 - b.Said.ChanceAbove)), favoured.Length, favoured.Count(b => b.Said.ChanceAbove > 0.5 == b.IsAbove));
    }
}
