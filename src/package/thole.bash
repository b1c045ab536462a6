# Completion of thole for bash; needs no other package. tests/package/words_test.py compares commands
# and options with those of the program.

_thole_options() {
  case $1 in
    check | loads) echo "--details --json --materials" ;;
    booms | inputs | fit) echo "--json --materials" ;;
    changes) echo "--all --json --write -o --output --materials" ;;
    size)
      echo "--free --wood --laid --legs --leg-length --market --details --json --materials"
      ;;
    sweep) echo "--of --from --to --steps --value --json --materials" ;;
    compare) echo "--as-given --json --materials" ;;
    sheet)
      echo "-o --output --holes --pattern --forces --drawing --paper --date --no-changes --replace
        --materials"
      ;;
    materials | assumptions) echo "--materials" ;;
    new) echo "--mount --units" ;;
    measure) echo "--mount" ;;
    modes | schema) ;;
    *) echo "--version" ;;
  esac
  echo "-h --help"
}

_thole_files() { # ENDING...: files of these kinds, and folders that may hold them
  local ending
  compopt -o filenames 2>/dev/null
  mapfile -t COMPREPLY < <(
    compgen -d -- "$cur"
    for ending in "$@"; do compgen -f -X "!*.$ending" -- "$cur"; done
  )
}

_thole_words() { mapfile -t COMPREPLY < <(compgen -W "$1" -- "$cur"); }

# The value of an option; false where it takes none.
_thole_value() {
  case $1 in
    --materials) _thole_files yaml yml ;;
    -o | --output) if [[ $command == sheet ]]; then _thole_files html; else _thole_files yaml yml; fi ;;
    --holes) _thole_files html svg ;;
    --forces) _thole_files csv ;;
    --drawing) _thole_files dxf svg ;;
    --paper) _thole_words "a4 letter" ;;
    --mount) _thole_words "gunwale_plate bracket cross_board" ;;
    --units) _thole_words "inch metric" ;;
    --laid) _thole_words "flat on_edge" ;;
    --legs) _thole_words "none drawn below_gear" ;;
    --write | --free | --wood | --leg-length | --market | --of | --from | --to | --steps | --value | \
      --pattern | --date) COMPREPLY=() ;;
    *) return 1 ;;
  esac
}

_thole() {
  local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD - 1]} command='' i
  # --paper=a4 comes as three words.
  if [[ $cur == "=" ]]; then
    cur=''
  elif [[ $prev == "=" && $COMP_CWORD -gt 1 ]]; then
    prev=${COMP_WORDS[COMP_CWORD - 2]}
  fi
  for ((i = 1; i < COMP_CWORD; i++)); do
    if [[ ${COMP_WORDS[i]} != -* ]]; then
      command=${COMP_WORDS[i]}
      break
    fi
  done
  COMPREPLY=()
  if [[ -n $command ]] && _thole_value "$prev"; then return; fi
  if [[ $cur == -* ]]; then
    _thole_words "$(_thole_options "$command")"
    return
  fi
  case $command in
    '')
      _thole_words "check loads booms changes size sweep inputs fit compare sheet materials modes
        assumptions new measure schema"
      ;;
    schema) _thole_words "setup report" ;;
    measure | modes | materials) ;;
    *) _thole_files yaml yml ;;
  esac
}

complete -F _thole thole
