using Tussock.Fates;
using Tussock.Pictures;
using Tussock.Records;

namespace Tussock.Reports;

/// <summary>What became of a nest, as pages and maps draw it.</summary>
public static class NestMarks
{
    /// <summary>The mark of a nest at the end of the trial, or at its first check.</summary>
    public static NestMark Of(NestFate fate, bool isHalfway = false) => (isHalfway ? fate.Day14 : fate.Day28) switch
    {
        FateAt.Survived => NestMark.Whole,
        FateAt.Lost => fate.Cause == Cause.Depredated ? NestMark.Eaten : NestMark.OtherLoss,
        _ => NestMark.NotKnown,
    };
}
