namespace Tussock.Measures;

/// <summary>Areas in square metres, and what is counted on them: the factors by which acres and hectares enter and leave. The only place that holds them.</summary>
/// <remarks>The acre is the international one (43,560 square feet). The older US survey acre is 4 parts in a million larger, which no belt can tell.</remarks>
/// <source>International yard and pound agreement of 1959; NIST Handbook 44, Appendix C; US survey foot retired at the end of 2022 (Federal Register 85 FR 62698).</source>
/// <check>published-values</check>
public static class Area
{
    /// <summary>Square metres in an international acre, exact.</summary>
    public const double SquareMetresPerAcre = 4046.8564224;

    /// <summary>Square metres in a hectare, exact.</summary>
    public const double SquareMetresPerHectare = 10_000;

    /// <summary>Square metres as acres.</summary>
    public static double Acres(double squareMetres) => squareMetres / SquareMetresPerAcre;

    /// <summary>Square metres as hectares.</summary>
    public static double Hectares(double squareMetres) => squareMetres / SquareMetresPerHectare;

    /// <summary>Acres as square metres.</summary>
    public static double FromAcres(double acres) => acres * SquareMetresPerAcre;

    /// <summary>Hectares as square metres.</summary>
    public static double FromHectares(double hectares) => hectares * SquareMetresPerHectare;

    /// <summary>A density per square metre as one per acre.</summary>
    public static double PerAcre(double perSquareMetre) => perSquareMetre * SquareMetresPerAcre;

    /// <summary>A density per square metre as one per hectare.</summary>
    public static double PerHectare(double perSquareMetre) => perSquareMetre * SquareMetresPerHectare;

    /// <summary>A density per acre as one per hectare.</summary>
    public static double PerHectareFromPerAcre(double perAcre) => perAcre * (SquareMetresPerHectare / SquareMetresPerAcre);
}
