using System.CommandLine;
using DeflectScan.Accuracy;

RootCommand root = new("Compares measurements with exact truth, and renders scenes with truth.")
{
    CompareCommand.Create(),
    DegradeCommand.Create(),
    DocumentCommand.Create(),
    LayoutsCommand.Create(),
    LoadsCommand.Create(),
    ReadCommand.Create(),
    ScenesCommand.Create(),
    SizesCommand.Create(),
};
return root.Parse(args).Invoke();
