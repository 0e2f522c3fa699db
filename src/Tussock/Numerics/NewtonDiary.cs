namespace Tussock.Numerics;

/// <summary>Why an iteration ended.</summary>
public enum NewtonStop
{
    /// <summary>The answer was known without a step.</summary>
    ClosedForm,

    /// <summary>The last step was below the tolerance.</summary>
    Converged,

    /// <summary>No shorter step improves: the last digits are noise.</summary>
    NoBetterPoint,

    /// <summary>The limit of steps was reached: doubtful.</summary>
    StepLimit,
}

/// <summary>What a Newton iteration did: shown beside a fit, so that a doubtful one can be told.</summary>
/// <param name="Steps">Steps taken.</param>
/// <param name="LastStep">Largest relative change of a parameter in the last step; 0 when none was needed.</param>
/// <param name="Stopped">Why it ended.</param>
public readonly record struct NewtonDiary(int Steps, double LastStep, NewtonStop Stopped)
{
    /// <summary>The diary of an answer that needed no step.</summary>
    public static NewtonDiary None => new(0, 0, NewtonStop.ClosedForm);

    /// <summary>Whether the fit may be trusted.</summary>
    public bool IsSound => Stopped != NewtonStop.StepLimit;
}
