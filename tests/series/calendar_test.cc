// SPDX-License-Identifier: Apache-2.0
#include "series/calendar.h"

#include "support/test.h"

using swingloss::day_number;

TEST_CASE("day_number counts days as the calendar does", "[series][truth]") {
  // Unix time 1e9 s is 2001-09-09 01:46:40 UTC, 86400 s a day: day 11574 (POSIX).
  CHECK(day_number("1970-01-01") == 0);
  CHECK(day_number("2001-09-09") == 11574);
  CHECK(day_number("9.9.2001") == 11574);
  // 2000 was a leap year, 1900 was not (Gregorian rule).
  CHECK(*day_number("2000-03-01") - *day_number("2000-02-28") == 2);
  CHECK(*day_number("1900-03-01") - *day_number("1900-02-28") == 1);
}

TEST_CASE("day_number takes no text that is no day", "[series]") {
  for (const char* text : {"",
                           "soon",
                           "2024-02-30",
                           "2024-13-01",
                           "2024-3",
                           "24-03-01",
                           "1.3.24",
                           "2024-03-01-01",
                           "2024-0x-01"}) {
    CAPTURE(text);
    CHECK_FALSE(day_number(text).has_value());
  }
}
