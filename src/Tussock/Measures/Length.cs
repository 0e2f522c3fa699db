namespace Tussock.Measures;

/// <summary>Lengths in metres: the factors by which other units enter and leave. The only place that holds them.</summary>
/// <source>International yard and pound agreement of 1959; NIST Handbook 44, Appendix C.</source>
/// <check>published-values</check>
public static class Length
{
    /// <summary>Metres in an international foot, exact.</summary>
    public const double MetresPerFoot = 0.3048;

    /// <summary>Metres in an inch, exact.</summary>
    public const double MetresPerInch = MetresPerFoot / 12;

    /// <summary>Metres in a yard, exact.</summary>
    public const double MetresPerYard = 3 * MetresPerFoot;

    /// <summary>Metres in an international mile, exact.</summary>
    public const double MetresPerMile = 5280 * MetresPerFoot;

    /// <summary>Metres as feet.</summary>
    public static double Feet(double metres) => metres / MetresPerFoot;

    /// <summary>Metres as yards.</summary>
    public static double Yards(double metres) => metres / MetresPerYard;

    /// <summary>Metres as miles.</summary>
    public static double Miles(double metres) => metres / MetresPerMile;

    /// <summary>Metres as inches.</summary>
    public static double Inches(double metres) => metres / MetresPerInch;

    /// <summary>Feet as metres.</summary>
    public static double FromFeet(double feet) => feet * MetresPerFoot;
}
