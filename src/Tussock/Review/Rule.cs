namespace Tussock.Review;

/// <summary>One kind of mistake: looks at a season and adds what it finds.</summary>
/// <param name="on">The inspection that it belongs to.</param>
internal delegate void Rule(Inspection on);
