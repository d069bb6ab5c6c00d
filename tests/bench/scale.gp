# SPDX-License-Identifier: Apache-2.0
# What a bar costs, from the table of scale.md:   gnuplot tests/bench/scale.gp   writes scale.svg
# beside it. Run it from anywhere.
here = system("dirname ".ARG0)
table(kind) = sprintf("< grep '^| %s ' %s/scale.md | tr -d '|'", kind, here)
set terminal svg size 720,430 font "DejaVu Sans,13" background "white"
set output here."/scale.svg"
set logscale xy
set xrange [8:60000]
set yrange [0.01:6000]
set xtics (10, 100, 1000, 10000)
set ytics ("0.01" 0.01, "0.1" 0.1, "1" 1, "10" 10, "100" 100, "1000" 1000)
set xlabel "bars in the series"
set ylabel "processor time for each bar [ms]"
set border 3
set tics nomirror out
set grid ytics lc rgb "#dddddd"
unset key
# Each line is named at its last point.
end_label(kind, each, words) = sprintf("%s | tail -1 | awk '{ print $2, %s, \"\\\"%s\\\"\" }'", table(kind), each, words)
set style line 1 lc rgb "#1f5fa8" lw 2 pt 7 ps 0.7
set style line 2 lc rgb "#b5541c" lw 2 pt 7 ps 0.7
# Columns: kind, bars, first run, a bar, unchanged, read again, a bar, memory.
plot table("typed") using 2:4 with linespoints ls 1, \
     table("typed") using 2:7 with linespoints ls 1 dt 2, \
     table("typed") using 2:(1000 * $5 / $2) with linespoints ls 1 dt 3, \
     table("filmed") using 2:4 with linespoints ls 2, \
     table("filmed") using 2:7 with linespoints ls 2 dt 2, \
     table("filmed") using 2:(1000 * $5 / $2) with linespoints ls 2 dt 3, \
     end_label("typed", "$4", "typed, first run") using 1:2:3 with labels left offset 0.8,0.3 tc rgb "#1f5fa8", \
     end_label("typed", "$7", "typed, read again") using 1:2:3 with labels left offset 0.8,-0.3 tc rgb "#1f5fa8", \
     end_label("typed", "1000 * $5 / $2", "typed, unchanged") using 1:2:3 with labels left offset 0.8,0 tc rgb "#1f5fa8", \
     end_label("filmed", "$4", "filmed, first run") using 1:2:3 with labels left offset 0.8,0 tc rgb "#b5541c", \
     end_label("filmed", "$7", "filmed, read again") using 1:2:3 with labels left offset 0.8,0 tc rgb "#b5541c", \
     end_label("filmed", "1000 * $5 / $2", "filmed, unchanged") using 1:2:3 with labels left offset 0.8,-1.0 tc rgb "#b5541c"
