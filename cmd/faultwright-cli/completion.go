package main

import (
	"fmt"

	"faultwright/content"
)

type completionCommand struct {
	Shell string `arg:"" enum:"bash,zsh,fish" help:"bash, zsh or fish."`
}

func (c completionCommand) Help() string {
	return "bash: source <(faultwright-cli completion bash); zsh: put the output into a file _faultwright-cli on the fpath; fish: faultwright-cli completion fish | source."
}

func (c completionCommand) Run(p *program) error {
	_, err := fmt.Fprint(p.out, map[string]string{"bash": bashScript, "zsh": zshScript, "fish": fishScript}[c.Shell])
	return err
}

// namesCommand prints the names a shell completes, one a line.
type namesCommand struct {
	Kind string `arg:"" enum:"trees,visits,all"`
}

func (c namesCommand) Run(p *program) error {
	var out []string
	if c.Kind == "visits" {
		records, err := p.records()
		if err != nil {
			return err
		}
		defer records.Close()
		all, err := records.List()
		if err != nil {
			return err
		}
		for _, v := range all {
			out = append(out, v.ID)
		}
	} else {
		lib, err := p.library()
		if err != nil {
			return err
		}
		out = completable(lib, c.Kind)
	}
	for _, name := range out {
		fmt.Fprintln(p.out, clean(name))
	}
	return nil
}

func completable(lib *content.Library, kind string) []string {
	if kind == "trees" {
		return lib.Forest.Beginnings()
	}
	return names(lib)
}

const bashScript = `# completion of faultwright-cli for bash
_faultwright_cli() {
  local current=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD-1]} command=${COMP_WORDS[1]} words
  case $previous in
    --role) words="owner qualified" ;;
    --format) words="html markdown" ;;
    --meter) words="standard lowz" ;;
    --kind) words="tree fault card caution step finding source" ;;
    --resume) words=$(faultwright-cli names visits 2>/dev/null) ;;
    --content|--readings|--out|--csv|--picture) COMPREPLY=($(compgen -f -- "$current")); return ;;
  esac
  if [[ -z $words ]]; then
    if [[ $COMP_CWORD -eq 1 ]]; then
      words="walk check search show measure trial remaining report visits delete completion --content --help"
    else
      case $command in
        walk) words="--role --from --fact --readings --json --resume --retest --no-record --site --vehicle --note --content --help $(faultwright-cli names trees 2>/dev/null)" ;;
        check) [[ $current != -* ]] && { COMPREPLY=($(compgen -f -- "$current")); return; }; words="--json --deep --walks --help" ;;
        search) words="--kind --limit --json --content --help" ;;
        show) words="$(faultwright-cli names all 2>/dev/null) --content --help" ;;
        measure) words="$(faultwright-cli names all 2>/dev/null) --fault --load --set --meter --json --netlist --content --help" ;;
        trial) words="--rigs --seed --wrong --csv --picture --exits --json --content --help $(faultwright-cli names trees 2>/dev/null)" ;;
        remaining) words="--write --rigs --seed --content --help $(faultwright-cli names trees 2>/dev/null)" ;;
        report) words="$(faultwright-cli names visits 2>/dev/null) --format --out --force --before-repair --content --help" ;;
        delete) words="$(faultwright-cli names visits 2>/dev/null) --yes --help" ;;
        visits) words="--json --help" ;;
        completion) words="bash zsh fish" ;;
      esac
    fi
  fi
  COMPREPLY=($(compgen -W "$words" -- "$current"))
}
complete -F _faultwright_cli faultwright-cli
`

const zshScript = `#compdef faultwright-cli
# completion of faultwright-cli for zsh
_faultwright_cli() {
  local -a commands=(
    'walk:walk a fault tree' 'check:check a handbook' 'search:search the handbook' 'show:show a card, step or finding'
    'measure:compute what a meter shows on a rig'
    'trial:send drawn vehicles down a tree'
    'remaining:compute which dangers findings leave possible'
    'report:make the sheet of a visit' 'visits:list the visits' 'delete:delete a visit' 'completion:print a completion script'
  )
  if (( CURRENT == 2 )); then
    _describe command commands
    return
  fi
  case ${words[2]} in
    walk) _arguments '--role[who reads]:role:(owner qualified)' '--from[first step]:step:' '*--fact[known without a meter]:name=choice:' '--readings[file of readings]:file:_files' \
      '--json[print JSON]' '--resume[go on with a visit]:visit:($(faultwright-cli names visits 2>/dev/null))' '--retest[test after repair]' \
      '--no-record[keep no record]' '--site:site:' '--vehicle:vehicle:' '--note:note:' '--content[handbook]:folder:_files -/' \
      '2:walk:($(faultwright-cli names trees 2>/dev/null))' ;;
    check) _arguments '--json[print JSON]' '--deep[send drawn vehicles down every walk]' '--walks[readings files]:folder:_files -/' '2:folder or file:_files' ;;
    search) _arguments '--kind[only this kind]:kind:(tree fault card caution step finding source)' '--limit[at most so many]:number:' '--json[print JSON]' ;;
    show) _arguments '2:id:($(faultwright-cli names all 2>/dev/null))' ;;
    measure) _arguments '*--fault[a fault in force]:fault:' '*--load[watts of a leg]:leg:' '*--set[another value]:part:' \
      '--meter[input]:meter:(standard lowz)' '--json[print JSON]' '--netlist[print SPICE]' '2:rig:' '*:quantity:' ;;
    trial) _arguments '--rigs[how many]:rigs:' '--seed[of the draws]:seed:' '--wrong[share of the readings]:share:' '--csv[file]:file:_files' '--picture[file]:file:_files' \
      '--exits[who took each branch]' '--json[print JSON]' '2:walk:($(faultwright-cli names trees 2>/dev/null))' ;;
    remaining) _arguments '--write[into the handbook]' '--rigs[how many]:rigs:' '--seed[of the draws]:seed:' '*:walk:($(faultwright-cli names trees 2>/dev/null))' ;;
    report) _arguments '--format[form of the sheet]:format:(html markdown)' '--out[file]:file:_files' '--force[replace the file]' \
      '--before-repair[as before the last test after repair]' \
      '2:visit:($(faultwright-cli names visits 2>/dev/null))' ;;
    delete) _arguments '--yes[do not ask]' '2:visit:($(faultwright-cli names visits 2>/dev/null))' ;;
    visits) _arguments '--json[print JSON]' ;;
    completion) _arguments '2:shell:(bash zsh fish)' ;;
  esac
}
_faultwright_cli "$@"
`

const fishScript = `# completion of faultwright-cli for fish
complete -c faultwright-cli -f
complete -c faultwright-cli -n __fish_use_subcommand -a 'walk check search show measure trial remaining report visits delete completion'
complete -c faultwright-cli -l content -r -d 'Handbook folder'
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -a '(faultwright-cli names trees 2>/dev/null)'
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -l role -x -a 'owner qualified'
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -l from -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -l fact -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -l readings -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -l resume -x -a '(faultwright-cli names visits 2>/dev/null)'
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -l retest
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -l no-record
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -l site -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -l vehicle -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -l note -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk check search measure trial visits' -l json
complete -c faultwright-cli -n '__fish_seen_subcommand_from search' -l kind -x -a 'tree fault card caution step finding source'
complete -c faultwright-cli -n '__fish_seen_subcommand_from search' -l limit -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from measure' -l fault -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from measure' -l load -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from measure' -l set -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from measure' -l meter -x -a 'standard lowz'
complete -c faultwright-cli -n '__fish_seen_subcommand_from measure' -l netlist
complete -c faultwright-cli -n '__fish_seen_subcommand_from delete' -l yes
complete -c faultwright-cli -n '__fish_seen_subcommand_from check' -l deep
complete -c faultwright-cli -n '__fish_seen_subcommand_from check' -l walks -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from trial remaining' -a '(faultwright-cli names trees 2>/dev/null)'
complete -c faultwright-cli -n '__fish_seen_subcommand_from trial remaining' -l rigs -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from trial remaining' -l seed -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from trial' -l wrong -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from trial' -l csv -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from trial' -l picture -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from trial' -l exits
complete -c faultwright-cli -n '__fish_seen_subcommand_from remaining' -l write
complete -c faultwright-cli -n '__fish_seen_subcommand_from report' -l force
complete -c faultwright-cli -n '__fish_seen_subcommand_from report' -l before-repair
complete -c faultwright-cli -n '__fish_seen_subcommand_from check' -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from show' -a '(faultwright-cli names all 2>/dev/null)'
complete -c faultwright-cli -n '__fish_seen_subcommand_from report delete' -a '(faultwright-cli names visits 2>/dev/null)'
complete -c faultwright-cli -n '__fish_seen_subcommand_from report' -l format -x -a 'html markdown'
complete -c faultwright-cli -n '__fish_seen_subcommand_from report' -l out -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from completion' -a 'bash zsh fish'
`
