using System.CommandLine;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;

namespace DeflectScan.Cli.Commands;

/// <summary><c>deflectscan completion SHELL</c>: a script that lets the shell complete commands, options and their values.</summary>
internal static class CompletionCommand
{
    // The program answers "[suggest:POSITION]" "command line" with one suggestion a line. Each script hands it the line with the program's
    // own name in front, however it was called, and falls back on file names where there is no suggestion.
    private const string Bash = """
        # bash completion for deflectscan; to use it:  source <(deflectscan completion bash)
        _deflectscan() {
            local called="${COMP_WORDS[0]}"
            local line="deflectscan${COMP_LINE#"$called"}"
            local point=$((COMP_POINT - ${#called} + 11))
            local word="${COMP_WORDS[COMP_CWORD]}"
            local suggestions
            suggestions="$("$called" "[suggest:$point]" "$line" 2>/dev/null)"
            local IFS=$'\n'
            COMPREPLY=($(compgen -W "$suggestions" -- "$word"))
        }
        complete -o default -F _deflectscan deflectscan
        """;

    private const string Zsh = """
        #compdef deflectscan
        # zsh completion for deflectscan; to use it:  source <(deflectscan completion zsh)
        _deflectscan() {
            local called="${words[1]}"
            local line="deflectscan${BUFFER#"$called"}"
            local point=$((CURSOR - ${#called} + 11))
            local -a suggestions
            suggestions=("${(@f)$("$called" "[suggest:$point]" "$line" 2>/dev/null)}")
            suggestions=(${suggestions:#})
            if (( ${#suggestions} )) && [[ -n ${(M)suggestions:#${(b)PREFIX}*} ]]; then
                compadd -- "${suggestions[@]}"
            else
                _files
            fi
        }
        compdef _deflectscan deflectscan
        """;

    private const string Fish = """
        # fish completion for deflectscan; to use it:  deflectscan completion fish | source
        function __deflectscan_suggest
            set -l line (commandline -cp)
            set -l called (string split -m 1 ' ' -- $line)[1]
            set -l text deflectscan(string sub -s (math (string length -- $called) + 1) -- $line)
            command $called "[suggest:"(string length -- $text)"]" "$text" 2>/dev/null
        end
        complete -c deflectscan -a '(__deflectscan_suggest)'
        """;

    public static Command Make(Terminal terminal)
    {
        Argument<string> shell = new("SHELL") { Description = "bash, zsh or fish." };
        shell.AcceptOnlyFromAmong("bash", "zsh", "fish");
        Command command = new("completion", "Print a script that makes the shell complete this program's commands and options.") { shell };
        ExitCodeHelp.State(command, 0, 1, 2);
        command.SetAction(parsed =>
        {
            terminal.Out.WriteLine(parsed.GetValue(shell) switch { "bash" => Bash, "zsh" => Zsh, _ => Fish });
            return ExitCode.Ok;
        });
        return command;
    }
}
