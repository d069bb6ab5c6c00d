# SPDX-License-Identifier: Apache-2.0
# What a bar costs, from the table of scale.md:   gnuplot tests/bench/scale.gp   writes scale.svg
# beside it. Run it from anywhere.
here = system("dirname ".ARG0)
table(kind) = sprintf("< grep '^| %s ' %s/scale.md | tr -d '|'", kind, here)
set terminal svg size 720,430 font "DejaVu Sans,13" background "white"
set output here."/scale.svg"
set logscale xy
set xrange [8:60000]
set yrange [0.3:6000]
set xtics (10, 100, 1000, 10000)
set ytics ("0.5" 0.5, "1" 1, "3" 3, "10" 10, "30" 30, "100" 100, "300" 300, "1000" 1000, "3000" 3000)
set xlabel "bars in the series"
set ylabel "processor time for each bar [ms]"
set border 3
set tics nomirror out
set grid ytics lc rgb "#dddddd"
unset key
# Each line is named at its last point.
end_label(kind, column, words) = sprintf("%s | tail -1 | awk '{ print $2, $%d, \"\\\"%s\\\"\" }'", table(kind), column, words)
set style line 1 lc rgb "#1f5fa8" lw 2 pt 7 ps 0.7
set style line 2 lc rgb "#b5541c" lw 2 pt 7 ps 0.7
plot table("typed") using 2:4 with linespoints ls 1, \
     table("typed") using 2:6 with linespoints ls 1 dt 2, \
     table("filmed") using 2:4 with linespoints ls 2, \
     table("filmed") using 2:6 with linespoints ls 2 dt 2, \
     end_label("typed", 4, "typed, first run") using 1:2:3 with labels left offset 0.8,0.2 tc rgb "#1f5fa8", \
     end_label("typed", 6, "typed, unchanged") using 1:2:3 with labels left offset 0.8,-0.2 tc rgb "#1f5fa8", \
     end_label("filmed", 4, "filmed, first run") using 1:2:3 with labels left offset 0.8,0 tc rgb "#b5541c", \
     end_label("filmed", 6, "filmed, unchanged") using 1:2:3 with labels left offset 0.8,1.7 tc rgb "#b5541c"
