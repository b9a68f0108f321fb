#compdef faultwright-cli
# completion of faultwright-cli for zsh
_faultwright_cli() {
  local -a commands=(
    'walk:walk a fault tree' 'check:check a handbook' 'search:search the handbook' 'suspects:say which faults fit an account'
    'show:show a card, step or finding' 'print:make a page to pin up'
    'scenario:list, show, check, save or play a vehicle to practise on'
    'assign:put scenarios into an assignment' 'hand-in:gather your attempts into one file' 'mark:mark the attempts of a class' 'replay:go through an attempt'
    'measure:compute what a meter shows on a rig'
    'trial:send drawn vehicles down a tree'
    'optimum:say what a walk costs beside the best order of asking'
    'remaining:compute which dangers findings leave possible'
    'report:make the sheet of a visit' 'visits:list the visits' 'vehicle:list, show, export or import your own vehicles, give one a visit' 'delete:delete a visit' 'completion:print a completion script'
  )
  if (( CURRENT == 2 )); then
    _describe command commands
    return
  fi
  case ${words[2]} in
    walk) _arguments '--role[who reads]:role:(owner qualified)' '--from[first step]:step:' '*--fact[known without a meter]:name=choice:' '--readings[file of readings]:file:_files' \
      '--json[print JSON]' '--resume[go on with a visit]:visit:($(faultwright-cli names visits 2>/dev/null))' '--retest[test after repair]' \
      '--no-record[keep no record]' '--site:site:' '--vehicle:vehicle:' '--own[one of your vehicles]:vehicle:($(faultwright-cli names vehicles 2>/dev/null))' '--meter[read with]:meter:_faultwright_cli_meters' '--note:note:' '--content[handbook]:folder:_files -/' \
      '2:walk:($(faultwright-cli names trees 2>/dev/null))' ;;
    check) _arguments '--json[print JSON]' '--deep[send drawn vehicles down every walk]' '--walks[readings files]:folder:_files -/' '2:folder or file:_files' ;;
    search) _arguments '--kind[only this kind]:kind:(tree fault card caution step finding source)' '--limit[at most so many]:number:' '--json[print JSON]' ;;
    suspects) _arguments '*--fact[known without a meter]:name=choice:' '--readings[file of readings]:file:_files' '*--seen[seen or felt]:observation=choice:' \
      '*--tried[tried, and what came of it]:intervention=gone or still:' '--complaint[that brought you]:walk:($(faultwright-cli names trees 2>/dev/null))' \
      '--at[where a list was read]:place:' '--state[how the vehicle stood]:state:(nothing-plugged-in plugged-in loads-on plug-pulled main-off at-rest)' \
      '--unit[what was measured]:unit:(V ohms A)' '--meter[read with]:meter:_faultwright_cli_meters' '*--tool[at hand beside a multimeter]:tool:(clamp dc-clamp low-impedance)' \
      '--role[who reads]:role:(owner qualified)' '--json[print JSON]' '*:quantity=reading:' ;;
    show) _arguments '2:id:($(faultwright-cli names all 2>/dev/null))' '--flow[draw a walk whole]:form:(svg dot mermaid)' \
        '--columns[steps side by side at most]:number:' '--out[file]:file:_files' '--force[replace the file]' ;;
    print) _arguments '--paper[size]:paper:(a4 letter)' '--form[blank form for readings]' '--out[file]:file:_files' '--force[replace the file]' \
      '2:id:(handbook $(faultwright-cli names all 2>/dev/null))' ;;
    vehicle) _arguments '--json[print JSON]' '--out[file]:file:_files' '--force[replace the file]' '--none[the visit is of no vehicle with a name]' '2:what:(list show export import give)' '*:vehicle, visit or file:_files' ;;
    scenario) _arguments '--instructor[tell what is hidden]' '--seed[of the variant]:seed:' '--variants[how many are solved]:variants:' \
      '--role[as whom]:role:(owner trainee qualified)' '--level[of help]:level:(free guided worked)' '--meter[read with]:meter:_faultwright_cli_meters' '--no-record[keep no record]' '--assignment[file]:file:_files' '--name[yours]:name:' '--out[file]:file:_files' \
      '--force[replace the file]' '--json[print JSON]' '2:what:(list show check order save play)' '*:scenario:($(faultwright-cli names scenarios 2>/dev/null))' ;;
    assign) _arguments '--title:title:' '--note:note:' '--level[of help]:level:(free guided worked)' '--role[as whom]:role:(owner trainee qualified)' '--open[tree, handbook, hints]:list:' \
      '--own[a vehicle for each learner]' '--seed[of the variant]:seed:' '--hold[hold the look back]' '--due[day]:date:' '--out[file]:file:_files' '--handout[file]:file:_files' \
      '--key[file]:file:_files' '--force[replace files]' '*:scenario:($(faultwright-cli names scenarios 2>/dev/null))' ;;
    hand-in) _arguments '--name[yours]:name:' '--mine[all attempts here are yours]' '--out[file]:file:_files' '--force[replace the file]' '2:assignment:_files' '*:attempt:' ;;
    mark) _arguments '--assignment[file]:file:_files' '--hide-names[in the table]' '--csv[file]:file:_files' '--html[file]:file:_files' '--feedback[folder]:folder:_files -/' \
      '--json[print JSON]' '--force[replace files]' '2:folder:_files -/' ;;
    replay) _arguments '--assignment[file]:file:_files' '--scenario[only this]:scenario:($(faultwright-cli names scenarios 2>/dev/null))' '2:attempt:_files' ;;
    measure) _arguments '*--fault[a fault in force]:fault:' '*--load[watts of a leg]:leg:' '*--set[another value]:part:' \
      '--meter[input]:meter:(standard lowz)' '--json[print JSON]' '--netlist[print SPICE]' '2:rig:' '*:quantity:' ;;
    trial) _arguments '--rigs[how many]:rigs:' '--seed[of the draws]:seed:' '--wrong[share of the readings]:share:' '--csv[file]:file:_files' '--picture[file]:file:_files' \
      '--exits[who took each branch]' '--json[print JSON]' '2:walk:($(faultwright-cli names trees 2>/dev/null))' ;;
    optimum) _arguments '--json[as JSON]' '--rigs[how many]:rigs:' '--seed[of the draws]:seed:' '*:walk:($(faultwright-cli names trees 2>/dev/null))' ;;
    remaining) _arguments '--write[into the handbook]' '--rigs[how many]:rigs:' '--seed[of the draws]:seed:' '*:walk:($(faultwright-cli names trees 2>/dev/null))' ;;
    report) _arguments '--format[form of the sheet]:format:(html markdown)' '--out[file]:file:_files' '--force[replace the file]' \
      '--before-repair[as before the last test after repair]' \
      '2:visit:($(faultwright-cli names visits 2>/dev/null))' ;;
    delete) _arguments '--yes[do not ask]' '2:visit:($(faultwright-cli names visits 2>/dev/null))' ;;
    visits) _arguments '--json[print JSON]' ;;
    completion) _arguments '2:shell:(bash zsh fish)' ;;
  esac
}
# meters of your own, or a file with lines of a booklet
_faultwright_cli_meters() {
  local -a meters=(${(f)"$(faultwright-cli names meters 2>/dev/null)"})
  compadd -a meters
  _files
}
_faultwright_cli "$@"
