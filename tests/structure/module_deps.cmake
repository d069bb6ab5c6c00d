# SPDX-License-Identifier: Apache-2.0
# The architecture, executed. One row a module, in the order of the house: a row may only name
# modules above it, so arrows point downward. Libraries under SOURCES are for .cc files alone.
# Eigen and the standard library are open to all; POSIX headers only where a row says so.
include("${CMAKE_CURRENT_LIST_DIR}/scan.cmake")

set(modules "")
macro(module NAME)
  cmake_parse_arguments(row "" "" "MAY;LIBS;SOURCES" ${ARGN})
  foreach(below IN LISTS row_MAY)
    if(NOT below IN_LIST modules)
      complain("module_deps.cmake" "row ${NAME}: ${below} is not above it")
    endif()
  endforeach()
  list(APPEND modules ${NAME})
  set(${NAME}_may ${row_MAY})
  set(${NAME}_libs ${row_LIBS})
  set(${NAME}_sources ${row_SOURCES})
endmacro()

module(core SOURCES posix)  # posix: whole files or none
module(metrology MAY core SOURCES ceres boost_math)
module(imaging MAY core LIBS opencv SOURCES libav)
module(view MAY core metrology imaging LIBS opencv)
module(tracking MAY core metrology imaging view LIBS opencv)
module(swing MAY core metrology SOURCES ceres)
module(rig MAY core metrology swing SOURCES json)
module(surface MAY core metrology imaging view LIBS opencv)
module(ranking MAY core metrology SOURCES boost_math)
module(series MAY core metrology imaging view tracking swing rig surface ranking SOURCES json)
module(report MAY core metrology imaging rig surface ranking series SOURCES json opencv posix)  # opencv: draws on frames; posix: runs gnuplot
module(desk MAY core series report SOURCES httplib json)
module(render MAY core imaging LIBS opencv)  # beside the house: the demo and the tests use it
module(cli MAY ${modules} SOURCES cli11 posix)  # posix: is this a terminal?

# library_of(HEADER OUT): which library an <angled> header belongs to; "" for the standard one.
function(library_of HEADER OUT)
  set(library "unknown")
  foreach(pair IN ITEMS
      "^[a-z_0-9]+$=" "^Eigen/=eigen" "^opencv2/=opencv" "^ceres/=ceres" "^boost/math/=boost_math"
      "^lib(avformat|avcodec|avutil|swscale)/=libav" "^nlohmann/=json" "^CLI/=cli11"
      "^httplib\\.h$=httplib" "^(sys/|unistd\\.h|fcntl\\.h|spawn\\.h|signal\\.h)=posix")
    string(REGEX MATCH "^(.*)=([a-z_0-9]*)$" unused "${pair}")
    set(name "${CMAKE_MATCH_2}")
    if(HEADER MATCHES "${CMAKE_MATCH_1}")
      set(library "${name}")
    endif()
  endforeach()
  set(${OUT} "${library}" PARENT_SCOPE)
endfunction()

function(check_ours FILE MODULE HEADER)
  string(REGEX REPLACE "/.*" "" used "${HEADER}")
  if(NOT used STREQUAL MODULE AND NOT used IN_LIST ${MODULE}_may)
    complain("${FILE}" "${MODULE} may not include ${HEADER}")
  elseif(NOT EXISTS "${ROOT}/src/${HEADER}")
    complain("${FILE}" "there is no src/${HEADER}")
  endif()
endfunction()

function(check_theirs FILE MODULE HEADER)
  library_of("${HEADER}" library)
  if(library STREQUAL "" OR library STREQUAL "eigen" OR library IN_LIST ${MODULE}_libs)
    return()
  elseif(NOT library IN_LIST ${MODULE}_sources)
    complain("${FILE}" "${MODULE} may not include <${HEADER}> (${library})")
  elseif(NOT FILE MATCHES "\\.cc$")
    complain("${FILE}" "<${HEADER}> (${library}) only in .cc files")
  endif()
endfunction()

find_files(files "src/*")
foreach(file IN LISTS files)
  string(REGEX REPLACE "^src/([^/]*)/.*" "\\1" module "${file}")
  if(NOT module IN_LIST modules)
    complain("${file}" "${module} is no module of the table")
    continue()
  endif()
  if(NOT file MATCHES "^src/[a-z]+/[a-z_0-9]+\\.(h|cc)$")
    continue()  # pages, texts: no includes
  endif()
  list(APPEND seen ${module})
  read_lines("${file}" lines)
  foreach(line IN LISTS lines)
    if(line MATCHES "^ *# *include +\"([^\"]*)\"")
      check_ours("${file}" ${module} "${CMAKE_MATCH_1}")
    elseif(line MATCHES "^ *# *include +<([^>]*)>")
      check_theirs("${file}" ${module} "${CMAKE_MATCH_1}")
    elseif(line MATCHES "^ *# *include")
      complain("${file}" "an include that is neither \"ours\" nor <theirs>: ${line}")
    endif()
  endforeach()
endforeach()

# What is linked must be in the table too.
read_lines(CMakeLists.txt lines)
foreach(line IN LISTS lines)
  if(line MATCHES "^swingloss_module\\(([a-z]+) DEPS ([a-z ]+)")
    set(module "${CMAKE_MATCH_1}")
    separate_arguments(deps UNIX_COMMAND "${CMAKE_MATCH_2}")
    foreach(used IN LISTS deps)
      if(NOT used IN_LIST ${module}_may)
        complain("CMakeLists.txt" "${module} may not link ${used}")
      endif()
    endforeach()
  endif()
endforeach()

if(NOT "core" IN_LIST seen OR NOT "cli" IN_LIST seen)
  complain("src" "no sources of core or none of cli seen: looking in the wrong place?")
endif()
conclude("module table")
