# SPDX-License-Identifier: Apache-2.0
# demo_compare tells good from bad: a series of three bars made here by hand, then spoilt.
# cmake -DPROGRAM=<demo_compare> -DSCRATCH=<folder of its own> -P demo_compare.cmake
cmake_minimum_required(VERSION 3.25)

function(write_series)
  file(REMOVE_RECURSE "${SCRATCH}")
  file(WRITE "${SCRATCH}/truth.json" [=[{"bars": [
    {"id": "A1", "outcome": "broken", "absorbed_J": 2.0, "available_J": 3.5,
     "release_deg": 125.0, "rise_deg": 40.0, "turn_s": 1.2},
    {"id": "A2", "outcome": "not-broken", "absorbed_J": null, "available_J": 3.41,
     "release_deg": 125.0, "rise_deg": -8.0, "turn_s": 1.1},
    {"id": "A3", "outcome": "broken", "absorbed_J": 1.0, "available_J": 3.5,
     "release_deg": 125.0, "rise_deg": 80.0, "turn_s": null}]}]=])
  file(WRITE "${SCRATCH}/results/results.json" [=[{"bars": [{"id": "A1", "problem": null},
    {"id": "A3", "problem": {"code": "clip-cut-off", "text": "the clip ends early"}}]}]=])
  write_swing(A1 2.01 0.01 null)
  write_swing(A2 3.4 0.02 "\"right\"")
endfunction()

function(write_swing ID VALUE U CENSORED)
  file(WRITE "${SCRATCH}/results/swings/${ID}.json" "{\"absorbed_J\":
    {\"value\": ${VALUE}, \"u\": ${U}, \"censored\": ${CENSORED}},
    \"release_angle_deg\": {\"value\": 125.25, \"u\": 0.1}, \"rise_angle_deg\": null}")
endfunction()

# expect(STATUS WORDS WHAT)
function(expect STATUS WORDS WHAT)
  execute_process(COMMAND ${PROGRAM} ${SCRATCH} RESULT_VARIABLE status OUTPUT_VARIABLE out ERROR_VARIABLE err)
  string(FIND "${out}${err}" "${WORDS}" place)
  if(NOT status EQUAL STATUS OR place EQUAL -1)
    message(SEND_ERROR "${WHAT}: exit ${status} instead of ${STATUS}, or \"${WORDS}\" is missing:\n${out}${err}")
  endif()
endfunction()

write_series()
expect(0 "2 of 3 energies compared: the worst is 0.50 % off" "a sound series")
expect(0 "root mean square of off / u is 0.79" "scores of +1 and -0.5")
expect(0 "+0.250" "the release angle's difference")
expect(0 "> 3.4000" "the bar that did not break")
expect(0 "the clip ends early" "the bar without a result")
expect(0 "  release off     rise off" "heads of columns that do not run together")

write_series()
write_swing(A1 2.05 0.01 null)
expect(1 "1 marked !" "an energy 5 u off")

write_series()
write_swing(A2 3.3 0.02 "\"right\"")
expect(1 "1 marked !" "a lower bound 5.5 u off")

write_series()
write_swing(A1 2.01 0.01 "\"right\"")
expect(1 "1 marked !" "a lower bound for a bar that broke")

write_series()
write_swing(A2 3.4 0.02 null)
expect(1 "1 marked !" "a plain number for a bar that never broke")

write_series()
write_swing(A1 null null null)
expect(1 "no reason given" "a bar without energy whose clip shows it")
write_swing(A2 null null null)
expect(1 "No energy could be compared" "nothing to compare")

# Photographs: one bar with two halves, the second's width 0.08 mm off at u 0.03.
function(write_photo OFF_WIDTH VERDICT)
  write_series()
  file(READ "${SCRATCH}/truth.json" truth)
  string(REPLACE "\"id\": \"A1\"," "\"id\": \"A1\", \"photo\": {\"file\": \"A1.jpg\",
    \"thickness_mm\": 4.0, \"width_mm\": 8.0, \"look\": \"brittle\"}," truth "${truth}")
  file(WRITE "${SCRATCH}/truth.json" "${truth}")
  set(face "\"notch_found\": true, \"judgement\": {\"verdict\": ${VERDICT},
    \"probability\": {\"brittle\": 0.6, \"mixed\": 0.3, \"ductile\": 0.1}}")
  file(WRITE "${SCRATCH}/results/surfaces/A1.json" "{\"photos\": [{\"faces\": [
    {${face}, \"section\": {\"thickness_mm\": {\"value\": 4.02, \"u\": 0.02},
      \"width_mm\": {\"value\": ${OFF_WIDTH}, \"u\": 0.03}}}, {${face}, \"section\": null}]}]}")
endfunction()
write_photo(8.06 "\"brittle\"")
expect(0 "2 sizes, the worst 0.060 mm off, root mean square of off / u 1.58" "a photographed bar")
expect(0 "1 judged right, 0 wrong, 0 cannot tell" "a look judged right")
write_photo(8.13 "null")
expect(1 "1 sizes are farther off than 4 u" "a width 4.3 u off")
write_photo(8.06 "\"ductile\"")
expect(0 "0 judged right, 1 wrong, 0 cannot tell" "a look judged wrong")

write_series()
file(WRITE "${SCRATCH}/truth.json" "{")
expect(2 "parse error" "a damaged truth file")
file(REMOVE "${SCRATCH}/truth.json")
expect(2 "truth.json: cannot be opened" "no truth file")
file(REMOVE_RECURSE "${SCRATCH}")
