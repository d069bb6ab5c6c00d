# SPDX-License-Identifier: Apache-2.0
# What the structure checks share. Each runs as `cmake -DROOT=<project> -P <check>.cmake`, prints
# one line a finding and fails when there is any, or when it found nothing to look at.
cmake_minimum_required(VERSION 3.25)
if(NOT IS_DIRECTORY "${ROOT}")
  message(FATAL_ERROR "give the project's folder: cmake -DROOT=<project> -P <check>.cmake")
endif()
set_property(GLOBAL PROPERTY findings 0)
set_property(GLOBAL PROPERTY looked_at 0)

# find_files(OUT PATTERN...): files under ROOT by pattern, without build trees.
function(find_files OUT)
  list(TRANSFORM ARGN PREPEND "${ROOT}/")
  file(GLOB_RECURSE files LIST_DIRECTORIES false RELATIVE "${ROOT}" ${ARGN})
  list(FILTER files EXCLUDE REGEX "^(build|\\.git)/")
  set(${OUT} ${files} PARENT_SCOPE)
endfunction()

# read_lines(FILE OUT): the lines as a list. CMake's lists do not survive [ ] and ; in their
# elements, so these arrive as < > and |
function(read_lines FILE OUT)
  file(READ "${ROOT}/${FILE}" text)
  string(REPLACE "[" "<" text "${text}")
  string(REPLACE "]" ">" text "${text}")
  string(REPLACE ";" "|" text "${text}")
  string(REPLACE "\\" "/" text "${text}")
  string(REGEX REPLACE "\n$" "" text "${text}")
  string(REGEX REPLACE "\n" ";" text "${text}")
  set(${OUT} "${text}" PARENT_SCOPE)
  get_property(n GLOBAL PROPERTY looked_at)
  math(EXPR n "${n} + 1")
  set_property(GLOBAL PROPERTY looked_at ${n})
endfunction()

function(complain WHERE WHAT)
  message(NOTICE "${WHERE}: ${WHAT}")
  get_property(n GLOBAL PROPERTY findings)
  math(EXPR n "${n} + 1")
  set_property(GLOBAL PROPERTY findings ${n})
endfunction()

# conclude(WHAT): the verdict; a check that sees nothing fails.
function(conclude WHAT)
  get_property(n GLOBAL PROPERTY findings)
  get_property(files GLOBAL PROPERTY looked_at)
  if(files EQUAL 0)
    message(FATAL_ERROR "${WHAT}: no file looked at under ${ROOT}")
  elseif(NOT n EQUAL 0)
    message(FATAL_ERROR "${WHAT}: ${n} findings in ${files} files")
  endif()
  message(NOTICE "${WHAT}: ${files} files, nothing found")
endfunction()
