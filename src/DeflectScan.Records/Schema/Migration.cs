namespace DeflectScan.Records.Schema;

/// <summary>The step to a schema from the one before it.</summary>
/// <param name="To">The schema's number, from 1.</param>
/// <param name="Sql">What makes it.</param>
internal sealed record Migration(int To, string Sql)
{
    /// <summary>Every released schema, in order; a schema that was released is never changed here.</summary>
    public static IReadOnlyList<Migration> Released { get; } = [new(1, SchemaOne.Sql), new(2, SchemaTwo.Sql), new(3, SchemaThree.Sql), new(4, SchemaFour.Sql)];
}
