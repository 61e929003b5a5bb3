using DeflectScan.Findings;

namespace DeflectScan.Writing;

/// <summary>A file is not written, so that nothing is lost; the message is one sentence that says what to do instead.</summary>
public sealed class OutputRefusedException(string message) : InputException(message);
