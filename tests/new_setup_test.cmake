# `thole new` writes a setup that `thole check` reads, and never writes over a file. Run as:
# cmake -D THOLE=<program> -D DIRECTORY=<empty directory of its own> -P new_setup_test.cmake

cmake_policy(VERSION 3.25)
file(REMOVE_RECURSE ${DIRECTORY})
file(MAKE_DIRECTORY ${DIRECTORY})

# run(code word...): `thole word...` ends with that code; sets out and err.
macro(run expected)
  execute_process(COMMAND ${THOLE} ${ARGN} WORKING_DIRECTORY ${DIRECTORY} INPUT_FILE /dev/null
    RESULT_VARIABLE code OUTPUT_VARIABLE out ERROR_VARIABLE err)
  if(NOT code STREQUAL "${expected}")
    message(FATAL_ERROR "thole ${ARGN}: exit code ${code}, expected ${expected}\n${out}${err}")
  endif()
endmacro()

run(0 new mount.yaml)
if(NOT out MATCHES "^wrote mount.yaml" OR NOT err STREQUAL "")
  message(FATAL_ERROR "thole new says:\n${out}${err}")
endif()
file(READ ${DIRECTORY}/mount.yaml starter)
if(NOT starter MATCHES "\n# use:" OR NOT starter MATCHES "\n# boat:" OR
   NOT starter MATCHES "\n# cases:" OR NOT starter MATCHES "luggage scale")
  message(FATAL_ERROR "thole new wrote:\n${starter}")
endif()

# Its condition is not known, so that its verdict is never "holds".
run(1 check mount.yaml)
if(NOT err STREQUAL "" OR out MATCHES "PROBLEM|problem")
  message(FATAL_ERROR "thole check of the starter says:\n${out}${err}")
endif()

run(2 new mount.yaml)
if(NOT out STREQUAL "" OR NOT err STREQUAL
   "error: mount.yaml: exists already and is left as it is\n")
  message(FATAL_ERROR "thole new over a starter says:\n${out}${err}")
endif()
file(READ ${DIRECTORY}/mount.yaml afterwards)
if(NOT afterwards STREQUAL starter)
  message(FATAL_ERROR "thole new changed a file that was there")
endif()

# A board across the boat, with its own list of what to measure.
run(0 new --mount cross_board board.yaml)
if(NOT out MATCHES "^wrote board.yaml.*What to measure for a board" OR NOT err STREQUAL "")
  message(FATAL_ERROR "thole new --mount cross_board says:\n${out}${err}")
endif()
file(READ ${DIRECTORY}/board.yaml board)
if(NOT board MATCHES "kind: cross_board" OR NOT board MATCHES "\n# boat:" OR
   NOT board MATCHES "\n# cases:" OR NOT board MATCHES "luggage scale")
  message(FATAL_ERROR "thole new --mount cross_board wrote:\n${board}")
endif()
run(0 measure --mount cross_board)
if(NOT out MATCHES "^What to measure for a board.*luggage scale.*Lean test")
  message(FATAL_ERROR "thole measure --mount cross_board says:\n${out}")
endif()
run(2 new --mount crossboard nothing.yaml)
if(NOT out STREQUAL "" OR NOT err STREQUAL
   "error: \"crossboard\" is no kind of mount; gunwale_plate, bracket or cross_board is expected; did you mean \"cross_board\"?\n")
  message(FATAL_ERROR "thole new of an unknown mount says:\n${out}${err}")
endif()

# The same in millimetres, metres, kilograms and newtons; checked as it stands.
run(0 new --units metric --mount cross_board metric.yaml)
file(READ ${DIRECTORY}/metric.yaml metric)
if(NOT metric MATCHES "\nunits: metric " OR NOT metric MATCHES "\n  clear_width: 1780 mm " OR
   NOT metric MATCHES "\n    size: 48x198 " OR NOT metric MATCHES "\n    brake_slip: {is: 180 N, ")
  message(FATAL_ERROR "thole new --units metric wrote:\n${metric}")
endif()
run(1 check metric.yaml)
if(NOT err STREQUAL "" OR out MATCHES "problem" OR NOT out MATCHES " N[ \n]" OR out MATCHES " lbf")
  message(FATAL_ERROR "thole check of the starter in metric units says:\n${out}${err}")
endif()
run(2 new --units metrc nothing.yaml)
if(NOT out STREQUAL "" OR NOT err STREQUAL
   "error: units: \"metrc\" is neither inch nor metric; did you mean \"metric\"?\n")
  message(FATAL_ERROR "thole new in unknown units says:\n${out}${err}")
endif()

# A bracket; its starter is checked as it stands.
run(0 new --mount bracket bracket.yaml)
if(NOT out MATCHES "^wrote bracket.yaml.*What to measure for a bracket" OR NOT err STREQUAL "")
  message(FATAL_ERROR "thole new --mount bracket says:\n${out}${err}")
endif()
run(1 check bracket.yaml)
if(NOT err STREQUAL "" OR out MATCHES "PROBLEM|problem")
  message(FATAL_ERROR "thole check of the starter of a bracket says:\n${out}${err}")
endif()

# Someone's own file, and a link to nowhere, are left alone too.
file(WRITE ${DIRECTORY}/mine.yaml "mine\n")
file(CREATE_LINK ${DIRECTORY}/nowhere ${DIRECTORY}/link.yaml SYMBOLIC)
run(2 new mine.yaml)
run(2 new link.yaml)
run(2 new no/such/folder.yaml)
file(READ ${DIRECTORY}/mine.yaml afterwards)
if(NOT afterwards STREQUAL "mine\n" OR EXISTS ${DIRECTORY}/nowhere)
  message(FATAL_ERROR "thole new wrote where it must not")
endif()
file(GLOB files RELATIVE ${DIRECTORY} ${DIRECTORY}/*)
list(SORT files)
if(NOT files STREQUAL "board.yaml;bracket.yaml;link.yaml;metric.yaml;mine.yaml;mount.yaml")
  message(FATAL_ERROR "files afterwards: ${files}")
endif()
