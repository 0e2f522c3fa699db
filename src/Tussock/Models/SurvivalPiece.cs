using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>Some days under one row of effects: survival over several pieces is the product over pieces.</summary>
/// <param name="Effects">One value a column of the table.</param>
/// <param name="Days">Days, ≥ 0.</param>
/// <param name="Offset">Added to the linear predictor.</param>
public readonly record struct SurvivalPiece(ImmutableArray<double> Effects, double Days, double Offset = 0);
