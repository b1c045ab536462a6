# One setup of tests/data/bad with its mistake, by `thole check`, or by `thole compare` where its name
# begins with compare-. Run as:
# cmake -D THOLE=<program> -D DIRECTORY=<tests/data/bad> -D NAME=<name> -P bad_inputs_test.cmake
#
# Expected: exit code 2, silence on stdout, NAME.err on stderr to the last character, no new file.
# THOLE_UPDATE=1 in the environment rewrites NAME.err instead of comparing.

cmake_policy(VERSION 3.25)
set(failures "")
macro(fail text)
  string(APPEND failures "  ${text}\n")
endmacro()

file(GLOB before LIST_DIRECTORIES true RELATIVE ${DIRECTORY} ${DIRECTORY}/* ${DIRECTORY}/.*)
set(command check)
if(NAME MATCHES "^(compare)-")
  set(command ${CMAKE_MATCH_1})
endif()
execute_process(COMMAND ${THOLE} ${command} ${NAME}.yaml WORKING_DIRECTORY ${DIRECTORY}
  INPUT_FILE /dev/null RESULT_VARIABLE code OUTPUT_VARIABLE out ERROR_VARIABLE err TIMEOUT 20)
file(GLOB after LIST_DIRECTORIES true RELATIVE ${DIRECTORY} ${DIRECTORY}/* ${DIRECTORY}/.*)

if(NOT code STREQUAL "2")
  fail("exit code ${code}, expected 2")
endif()
if(NOT out STREQUAL "")
  fail("stdout is not empty")
endif()
if(NOT before STREQUAL after)
  fail("files afterwards: '${after}', before: '${before}'")
endif()

set(file ${DIRECTORY}/${NAME}.err)
if("$ENV{THOLE_UPDATE}" STREQUAL "1")
  file(WRITE ${file} "${err}")
elseif(NOT EXISTS ${file})
  fail("no file ${file}; THOLE_UPDATE=1 makes it")
else()
  file(READ ${file} expected)
  if(NOT err STREQUAL expected)
    fail("stderr differs from ${NAME}.err:\n${expected}")
  endif()
endif()

if(NOT failures STREQUAL "")
  message("---- stdout\n${out}---- stderr\n${err}----\n${failures}")
  message(FATAL_ERROR "${NAME} failed")
endif()
