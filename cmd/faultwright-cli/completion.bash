# completion of faultwright-cli for bash
_faultwright_cli() {
  local current=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD-1]} command=${COMP_WORDS[1]} words
  case $previous in
    --role)
      words="owner qualified"
      if [[ $command == assign || $command == scenario ]]; then
        words="owner trainee qualified"
      fi ;;
    --level) words="free guided worked" ;;
    --paper) words="a4 letter" ;;
    --format) words="html markdown" ;;
    --meter)
      if [[ $command == measure ]]; then
        words="standard lowz"
      else
        local IFS=$'\n'
        COMPREPLY=($(compgen -f -W "$(faultwright-cli names meters 2>/dev/null)" -- "$current"))
        COMPREPLY=("${COMPREPLY[@]// /\\ }") # names of meters have blanks
        return
      fi ;;
    --own) [[ $command == walk ]] && words=$(faultwright-cli names vehicles 2>/dev/null) ;;
    --state) words="nothing-plugged-in plugged-in loads-on plug-pulled main-off at-rest" ;;
    --unit) words="V ohms A" ;;
    --complaint) words=$(faultwright-cli names trees 2>/dev/null) ;;
    --kind) words="tree fault card caution step finding source" ;;
    --resume) words=$(faultwright-cli names visits 2>/dev/null) ;;
    --content|--readings|--out|--csv|--picture|--html|--handout|--key|--feedback|--assignment) COMPREPLY=($(compgen -f -- "$current")); return ;;
  esac
  if [[ -z $words ]]; then
    if [[ $COMP_CWORD -eq 1 ]]; then
      words="walk check search suspects show print scenario assign hand-in mark replay measure trial optimum remaining report visits vehicle delete completion --content --help"
    else
      case $command in
        walk) words="--role --from --fact --readings --json --resume --retest --no-record --site --vehicle --own --meter --note --content --help $(faultwright-cli names trees 2>/dev/null)" ;;
        check) [[ $current != -* ]] && { COMPREPLY=($(compgen -f -- "$current")); return; }; words="--json --deep --walks --help" ;;
        suspects) words="--fact --readings --seen --tried --complaint --at --state --unit --role --tool --meter --json --content --help" ;;
        search) words="--kind --limit --json --content --help" ;;
        show) words="$(faultwright-cli names all 2>/dev/null) --flow --columns --out --force --content --help" ;;
        print) words="--paper --form --out --force --content --help handbook $(faultwright-cli names all 2>/dev/null)" ;;
        vehicle) words="list show export import give --none $(faultwright-cli names vehicles 2>/dev/null) $(faultwright-cli names visits 2>/dev/null) --out --force --json --content --help" ;;
        scenario) words="list show check order save play --write --instructor --seed --variants --role --level --meter --no-record --assignment --name --out --force --json --content --help $(faultwright-cli names scenarios 2>/dev/null)" ;;
        assign) words="$(faultwright-cli names scenarios 2>/dev/null) --title --note --level --role --open --own --seed --hold --due --out --handout --key --force --content --help" ;;
        hand-in) [[ $current != -* ]] && { COMPREPLY=($(compgen -f -- "$current")); return; }; words="--name --mine --out --force --content --help" ;;
        mark) [[ $current != -* ]] && { COMPREPLY=($(compgen -f -- "$current")); return; }; words="--assignment --hide-names --csv --html --feedback --json --force --content --help" ;;
        replay) [[ $current != -* ]] && { COMPREPLY=($(compgen -f -- "$current")); return; }; words="--assignment --scenario --content --help" ;;
        measure) words="$(faultwright-cli names all 2>/dev/null) --fault --load --set --meter --json --netlist --content --help" ;;
        trial) words="--rigs --seed --wrong --csv --picture --exits --json --content --help $(faultwright-cli names trees 2>/dev/null)" ;;
        optimum) words="--rigs --seed --json --content --help $(faultwright-cli names trees 2>/dev/null)" ;;
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
