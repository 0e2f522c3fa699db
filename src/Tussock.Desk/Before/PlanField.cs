namespace Tussock.Desk.Before;

/// <summary>How a box of a planning form is filled in.</summary>
public enum PlanBox
{
    /// <summary>A whole number.</summary>
    Whole,

    /// <summary>A number.</summary>
    Number,

    /// <summary>A number that may be left out.</summary>
    Optional,

    /// <summary>A date.</summary>
    Date,

    /// <summary>A time of day.</summary>
    Time,

    /// <summary>Words.</summary>
    Words,

    /// <summary>Yes or no.</summary>
    Tick,
}

/// <summary>A box of a form that is asked before anyone walks.</summary>
/// <param name="Name">Its name in the address.</param>
/// <param name="Box">How it is filled in.</param>
/// <param name="Usual">What stands in it at first; <c>yes</c> for a tick that is set.</param>
/// <param name="Least">Least number.</param>
/// <param name="Most">Greatest number, or longest text.</param>
public sealed record PlanField(string Name, PlanBox Box, string Usual, double Least = 0, double Most = 0)
{
    /// <summary>Key of its label.</summary>
    public string Label => "plan_desk.field." + Name;
}
