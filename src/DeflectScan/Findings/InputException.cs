namespace DeflectScan.Findings;

/// <summary>
/// Something that a person gave cannot be used: thrown deep inside a reader, and made a refusal at its edge (<see cref="Parsed"/>, an import, a face's one
/// place for it). The message is one sentence for the person.
/// </summary>
public class InputException(string message, Exception? cause = null) : Exception(message, cause)
{
    /// <summary>The value that was made of what was given.</summary>
    /// <exception cref="InputException">It is refused.</exception>
    public static T Unless<T>(Outcome<T> outcome)
        where T : class => outcome.Value ?? throw new InputException(outcome.Findings[0].Message);
}
