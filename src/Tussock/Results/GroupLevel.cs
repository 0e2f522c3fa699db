namespace Tussock.Results;

/// <summary>What a group of nests is.</summary>
public enum GroupLevel
{
    /// <summary>All nests of the season.</summary>
    Season,

    /// <summary>The nests of one pasture.</summary>
    Pasture,

    /// <summary>The nests of one transect.</summary>
    Transect,

    /// <summary>The nests in one cover class.</summary>
    Cover,

    /// <summary>The nests of one pasture in one cover class.</summary>
    PastureCover,

    /// <summary>The nests of one property.</summary>
    Property,

    /// <summary>The nests of one year, where several are pooled.</summary>
    Year,

    /// <summary>The nests of one pasture in one year, where several are pooled.</summary>
    PastureYear,
}
