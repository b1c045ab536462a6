# What only the build knows, as build_values.hpp: the commit and a hash of the material tables. Run at
# each build, and written only when it changed:
#   cmake -D ROOT=<source> -D OUTPUT=<header> -D "TABLES=a.yaml;b.yaml" -P build_info.cmake

cmake_policy(VERSION 3.25)

# The commit of the tree that holds these sources; of no other repository that they may lie in.
function(find_commit root result)
  set(${result} unknown PARENT_SCOPE)
  file(STRINGS ${root}/src/cmake/archived_commit.txt archived LIMIT_COUNT 1)
  if(archived MATCHES "^[0-9a-f]+$")  # an archive made by git
    string(SUBSTRING ${archived} 0 12 archived)
    set(${result} ${archived} PARENT_SCOPE)
    return()
  endif()
  find_program(GIT git)
  if(NOT GIT)
    return()
  endif()
  # No lock: a git of the owner may run at the same time.
  set(git ${GIT} --no-optional-locks -C ${root})
  execute_process(COMMAND ${git} rev-parse --show-toplevel RESULT_VARIABLE failed
    OUTPUT_VARIABLE top OUTPUT_STRIP_TRAILING_WHITESPACE ERROR_QUIET)
  file(REAL_PATH ${root} root)
  if(failed OR NOT top STREQUAL root)
    return()
  endif()
  execute_process(COMMAND ${git} rev-parse --short=12 HEAD RESULT_VARIABLE failed
    OUTPUT_VARIABLE commit OUTPUT_STRIP_TRAILING_WHITESPACE ERROR_QUIET)
  if(failed)
    return()
  endif()
  execute_process(COMMAND ${git} status --porcelain RESULT_VARIABLE failed
    OUTPUT_VARIABLE changes ERROR_QUIET)
  if(failed OR NOT changes STREQUAL "")
    string(APPEND commit ", changed")
  endif()
  set(${result} ${commit} PARENT_SCOPE)
endfunction()

# As `LC_ALL=C; sha256sum *.yaml | sha256sum` in materials/ prints it.
function(hash_tables tables result)
  set(lines "")
  foreach(table IN LISTS tables)
    file(SHA256 ${table} hash)
    cmake_path(GET table FILENAME name)
    list(APPEND lines "${name}:${hash}")
  endforeach()
  list(SORT lines)
  set(text "")
  foreach(line IN LISTS lines)
    string(REGEX REPLACE "^(.*):(.*)$" "\\2  \\1\n" line ${line})
    string(APPEND text "${line}")
  endforeach()
  string(SHA256 hash "${text}")
  string(SUBSTRING ${hash} 0 8 hash)
  set(${result} ${hash} PARENT_SCOPE)
endfunction()

find_commit(${ROOT} commit)
hash_tables("${TABLES}" tables)
file(CONFIGURE OUTPUT ${OUTPUT} @ONLY CONTENT [=[
// Written by src/cmake/build_info.cmake; do not edit.
#pragma once
namespace thole::build_values {
inline constexpr const char* commit = "@commit@";
inline constexpr const char* tables = "@tables@";
}
]=])
