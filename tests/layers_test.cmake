# Who may include what. Run as: cmake -D ROOT=<project> -P layers_test.cmake
#
# A public header includes only headers of a lower rank; a source file only headers up to the rank
# of its own header or, where it has none, of its directory.

cmake_policy(VERSION 3.25)

# ---- The table -----------------------------------------------------------------------------------

set(rank_0 build_info error known progress quantities source)
set(rank_1 boat measuring plate_bending unit_text vector waves)
set(rank_2 base_contact display fit forces fastener_group fatigue material motions rod stability towed_line)
set(rank_3 thread wood_strength)
set(rank_4 cross_board metal_strength section)
set(rank_5 board_frame setup)
set(rank_6 assumptions cautions holes loads metal_pairs parts_list reading tightening)
set(rank_7 check gunwale_bar)
set(rank_8 assessment)
set(rank_9 test_pull)
set(rank_10 changes)
set(rank_11 comparison report sheet sizing sweep)
set(rank_12 thole)

set(directory_core 9)
set(directory_checks 7)
set(directory_report 11)
set(directory_reading 11)
set(directory_page 12)
set(directory_cli 12)

# refuse(DIRS ... INCLUDE pattern [EXCEPT file...] BECAUSE reason)
set(refusals 0)
function(refuse)
  math(EXPR n "${refusals} + 1")
  set(refusals ${n} PARENT_SCOPE)
  cmake_parse_arguments(PARSE_ARGV 0 refuse_${n} "" "INCLUDE;BECAUSE" "DIRS;EXCEPT")
  foreach(field IN ITEMS INCLUDE BECAUSE DIRS EXCEPT)
    set(refuse_${n}_${field} "${refuse_${n}_${field}}" PARENT_SCOPE)
  endforeach()
endfunction()

set(core include src/core src/checks src/report)
refuse(DIRS ${core} INCLUDE "<(yaml-cpp|CLI)/"
  BECAUSE "the core knows neither YAML nor the command line")
refuse(DIRS ${core} INCLUDE "[\"/](reading|cli)/|<thole/reading.hpp>"
  BECAUSE "the core does not look up to those who use it" EXCEPT include/thole/thole.hpp)
refuse(DIRS src/core src/checks src/reading INCLUDE "[\"/]report/"
  BECAUSE "reports come after everything")
refuse(DIRS src/reading src/cli src/page INCLUDE "<yaml-cpp/" EXCEPT src/reading/yaml_document.cpp
  BECAUSE "only yaml_document.cpp knows YAML")
refuse(DIRS src/reading INCLUDE "<CLI/" BECAUSE "only src/cli knows the command line")
refuse(DIRS ${core} src/reading src/page EXCEPT src/reading/embed.cpp
  INCLUDE "<(fstream|iostream|filesystem|cstdio|stdio.h|unistd.h)>"
  BECAUSE "only src/cli and embed.cpp touch files and the terminal")

# ---- The work ------------------------------------------------------------------------------------

foreach(rank RANGE 12)
  foreach(header IN LISTS rank_${rank})
    set(rank_of_${header} ${rank})
  endforeach()
endforeach()

set(problems "")
set(count 0)
file(GLOB_RECURSE files RELATIVE ${ROOT} ${ROOT}/include/*.hpp ${ROOT}/src/*.hpp ${ROOT}/src/*.cpp)
foreach(file IN LISTS files)
  cmake_path(GET file STEM name)
  string(REGEX MATCH "^include|^src/[a-z]+" top ${file})
  string(REPLACE "src/" "" directory ${top})
  if(file MATCHES "^include/thole/")
    if(NOT DEFINED rank_of_${name})
      string(APPEND problems "  ${file}: has no rank; give it one in tests/layers_test.cmake\n")
      continue()
    endif()
    math(EXPR limit "${rank_of_${name}} - 1")
  elseif(DEFINED rank_of_${name})
    set(limit ${rank_of_${name}})
  elseif(DEFINED directory_${directory})
    set(limit ${directory_${directory}})
  else()
    string(APPEND problems "  ${file}: its directory has no rank in tests/layers_test.cmake\n")
    continue()
  endif()

  file(STRINGS ${ROOT}/${file} includes REGEX "^ *# *include")
  foreach(line IN LISTS includes)
    math(EXPR count "${count} + 1")
    if(line MATCHES "<thole/([a-z_]+)\\.hpp>")
      set(target ${CMAKE_MATCH_1})
      if(NOT DEFINED rank_of_${target})
        string(APPEND problems "  ${file}: ${line}: has no rank\n")
      elseif(rank_of_${target} GREATER limit)
        string(APPEND problems
          "  ${file}: ${line}: rank ${rank_of_${target}}, allowed here up to ${limit}\n")
      endif()
    endif()
    foreach(n RANGE 1 ${refusals})
      if(line MATCHES "${refuse_${n}_INCLUDE}" AND top IN_LIST refuse_${n}_DIRS
         AND NOT file IN_LIST refuse_${n}_EXCEPT)
        string(APPEND problems "  ${file}: ${line}: ${refuse_${n}_BECAUSE}\n")
      endif()
    endforeach()
  endforeach()
endforeach()

if(count LESS 50)
  string(APPEND problems "  only ${count} includes seen: is ROOT right?\n")
endif()
if(NOT problems STREQUAL "")
  message("${problems}")
  message(FATAL_ERROR "An include breaks the layers")
endif()
message("${count} includes keep to the layers")
