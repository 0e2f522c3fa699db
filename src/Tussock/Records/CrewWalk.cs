namespace Tussock.Records;

/// <summary>One walk of the measured course by one observer. May be shared between threads.</summary>
/// <param name="Observer">Who walked.</param>
/// <param name="CourseM">Length of the course in metres, when written.</param>
/// <param name="Steps">Steps it took, when written.</param>
/// <param name="ArmSpanM">Arm span in metres, when measured.</param>
/// <param name="Source">The row it was read from.</param>
public sealed record CrewWalk(string Observer, double? CourseM, double? Steps, double? ArmSpanM, Source Source);
