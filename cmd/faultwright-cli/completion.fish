# completion of faultwright-cli for fish
complete -c faultwright-cli -f
complete -c faultwright-cli -n __fish_use_subcommand -a 'walk check search suspects show print scenario assign hand-in mark replay measure trial optimum remaining report visits vehicle delete completion'
complete -c faultwright-cli -l content -r -d 'Handbook folder'
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -a '(faultwright-cli names trees 2>/dev/null)'
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk suspects' -l role -x -a 'owner qualified'
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -l from -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk suspects' -l fact -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk suspects' -l readings -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -l resume -x -a '(faultwright-cli names visits 2>/dev/null)'
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -l retest
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -l no-record
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -l site -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -l vehicle -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -l note -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk check search suspects measure trial optimum visits' -l json
complete -c faultwright-cli -n '__fish_seen_subcommand_from suspects' -l seen -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from suspects' -l tried -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from suspects' -l complaint -x -a '(faultwright-cli names trees 2>/dev/null)'
complete -c faultwright-cli -n '__fish_seen_subcommand_from suspects' -l at -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from suspects' -l state -x -a 'nothing-plugged-in plugged-in loads-on plug-pulled main-off at-rest'
complete -c faultwright-cli -n '__fish_seen_subcommand_from suspects' -l unit -x -a 'V ohms A'
complete -c faultwright-cli -n '__fish_seen_subcommand_from suspects' -l tool -x -a 'clamp dc-clamp low-impedance'
complete -c faultwright-cli -n '__fish_seen_subcommand_from search' -l kind -x -a 'tree fault card caution step finding source'
complete -c faultwright-cli -n '__fish_seen_subcommand_from search' -l limit -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from print' -a 'handbook (faultwright-cli names all 2>/dev/null)'
complete -c faultwright-cli -n '__fish_seen_subcommand_from print' -l paper -x -a 'a4 letter'
complete -c faultwright-cli -n '__fish_seen_subcommand_from print' -l form
complete -c faultwright-cli -n '__fish_seen_subcommand_from print' -l out -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from print' -l force
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk' -l own -x -a '(faultwright-cli names vehicles 2>/dev/null)'
complete -c faultwright-cli -n '__fish_seen_subcommand_from walk suspects scenario' -l meter -r -F -a '(faultwright-cli names meters 2>/dev/null)'
complete -c faultwright-cli -n '__fish_seen_subcommand_from vehicle' -a 'list show export import give (faultwright-cli names vehicles 2>/dev/null) (faultwright-cli names visits 2>/dev/null)'
complete -c faultwright-cli -n '__fish_seen_subcommand_from vehicle' -l none
complete -c faultwright-cli -n '__fish_seen_subcommand_from vehicle' -l out -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from vehicle' -l force
complete -c faultwright-cli -n '__fish_seen_subcommand_from vehicle' -l json
complete -c faultwright-cli -n '__fish_seen_subcommand_from scenario' -a 'list show check order save play (faultwright-cli names scenarios 2>/dev/null)'
complete -c faultwright-cli -n '__fish_seen_subcommand_from scenario' -l instructor
complete -c faultwright-cli -n '__fish_seen_subcommand_from scenario' -l seed -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from scenario' -l variants -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from scenario' -l role -x -a 'owner trainee qualified'
complete -c faultwright-cli -n '__fish_seen_subcommand_from scenario' -l level -x -a 'free guided worked'
complete -c faultwright-cli -n '__fish_seen_subcommand_from scenario' -l no-record
complete -c faultwright-cli -n '__fish_seen_subcommand_from scenario' -l out -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from scenario' -l force
complete -c faultwright-cli -n '__fish_seen_subcommand_from scenario' -l json
complete -c faultwright-cli -n '__fish_seen_subcommand_from assign' -a '(faultwright-cli names scenarios 2>/dev/null)'
complete -c faultwright-cli -n '__fish_seen_subcommand_from hand-in mark replay' -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from assign' -l title -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from assign' -l note -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from assign' -l open -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from assign' -l due -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from assign' -l level -x -a 'free guided worked'
complete -c faultwright-cli -n '__fish_seen_subcommand_from assign' -l role -x -a 'owner trainee qualified'
complete -c faultwright-cli -n '__fish_seen_subcommand_from assign' -l seed -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from assign' -l own
complete -c faultwright-cli -n '__fish_seen_subcommand_from assign' -l hold
complete -c faultwright-cli -n '__fish_seen_subcommand_from assign' -l handout -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from assign' -l key -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from assign hand-in' -l out -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from assign hand-in mark' -l force
complete -c faultwright-cli -n '__fish_seen_subcommand_from hand-in scenario' -l name -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from hand-in' -l mine
complete -c faultwright-cli -n '__fish_seen_subcommand_from mark replay scenario' -l assignment -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from mark' -l hide-names
complete -c faultwright-cli -n '__fish_seen_subcommand_from mark' -l csv -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from mark' -l html -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from mark' -l feedback -r
complete -c faultwright-cli -n '__fish_seen_subcommand_from mark' -l json
complete -c faultwright-cli -n '__fish_seen_subcommand_from replay' -l scenario -x -a '(faultwright-cli names scenarios 2>/dev/null)'
complete -c faultwright-cli -n '__fish_seen_subcommand_from measure' -l fault -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from measure' -l load -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from measure' -l set -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from measure' -l meter -x -a 'standard lowz'
complete -c faultwright-cli -n '__fish_seen_subcommand_from measure' -l netlist
complete -c faultwright-cli -n '__fish_seen_subcommand_from delete' -l yes
complete -c faultwright-cli -n '__fish_seen_subcommand_from check' -l deep
complete -c faultwright-cli -n '__fish_seen_subcommand_from check' -l walks -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from trial optimum remaining' -a '(faultwright-cli names trees 2>/dev/null)'
complete -c faultwright-cli -n '__fish_seen_subcommand_from trial optimum remaining' -l rigs -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from trial optimum remaining' -l seed -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from trial' -l wrong -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from trial' -l csv -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from trial' -l picture -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from trial' -l exits
complete -c faultwright-cli -n '__fish_seen_subcommand_from remaining' -l write
complete -c faultwright-cli -n '__fish_seen_subcommand_from report' -l force
complete -c faultwright-cli -n '__fish_seen_subcommand_from report' -l before-repair
complete -c faultwright-cli -n '__fish_seen_subcommand_from check' -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from show' -a '(faultwright-cli names all 2>/dev/null)'
complete -c faultwright-cli -n '__fish_seen_subcommand_from show' -l flow -x -a 'svg dot mermaid'
complete -c faultwright-cli -n '__fish_seen_subcommand_from show' -l columns -x
complete -c faultwright-cli -n '__fish_seen_subcommand_from show' -l out -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from show' -l force
complete -c faultwright-cli -n '__fish_seen_subcommand_from report delete' -a '(faultwright-cli names visits 2>/dev/null)'
complete -c faultwright-cli -n '__fish_seen_subcommand_from report' -l format -x -a 'html markdown'
complete -c faultwright-cli -n '__fish_seen_subcommand_from report' -l out -r -F
complete -c faultwright-cli -n '__fish_seen_subcommand_from completion' -a 'bash zsh fish'
