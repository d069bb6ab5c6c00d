// SPDX-License-Identifier: Apache-2.0
#include "core/csv.h"

#include "support/test.h"

using namespace swingloss;

namespace {

CsvTable table_of(std::string_view bytes) { return CsvTable::parse(bytes, "t.csv"); }

/// The message of the fault that `act` ends in.
template <typename Act>
std::string fault_of(const Act& act) {
  try {
    act();
  } catch (const InputError& error) {
    return error.what();
  }
  return "no fault";
}

std::string parse_fault(std::string_view bytes) {
  return fault_of([&] { static_cast<void>(table_of(bytes)); });
}

std::string number_fault(std::string_view bytes, const std::string& column) {
  return fault_of([&] { static_cast<void>(table_of(bytes).number(0, column)); });
}

}  // namespace

TEST_CASE("a table reads back the examples of RFC 4180", "[core][truth]") {
  // [RFC4180] section 2, definitions 1 to 7, under a header of our own.
  const CsvTable plain = table_of("a,b,c\r\naaa,bbb,ccc\r\nzzz,yyy,xxx");
  CHECK(plain.row_count() == 2);
  CHECK(plain.text(1, "c") == "xxx");
  const CsvTable quoted =
      table_of("a,b,c\r\n\"aaa\",\"b \r\nbb\",\"ccc\"\r\n\"aaa\",\"b\"\"bb\",\"ccc\"\r\n");
  CHECK(quoted.text(0, "b") == "b \r\nbb");
  CHECK(quoted.text(1, "b") == "b\"bb");
}

TEST_CASE("a table takes what spreadsheets add", "[core]") {
  const CsvTable table = table_of(
      "\xEF\xBB\xBFid;width_mm;note;;\r\n"
      "\r\n"
      "A1 ; 8,05 ;\"x; y\";;\r\n"
      ";;;;\r\n"
      "A2;7,9; said \"so\" ;;\r\n");
  CHECK(table.columns() == std::vector<std::string>{"id", "width_mm", "note"});
  CHECK(table.separator() == ';');
  CHECK(table.row_count() == 2);
  CHECK(table.text(0, "id") == "A1");
  CHECK(table.number(0, "width_mm") == 8.05);
  CHECK(table.text(0, "note") == "x; y");
  CHECK(table.text(1, "note") == "said \"so\"");
  CHECK(table.place(0, "width_mm") == "row 3, column width_mm");
  CHECK(table.line(1) == 5);
}

TEST_CASE("a table finds its separator", "[core]") {
  CHECK(table_of("id,a\nx,1\n").separator() == ',');
  CHECK(table_of("id;a\nx;1\n").separator() == ';');
  CHECK(table_of("id\ta\nx\t1\n").separator() == '\t');
  CHECK(table_of("id\nx\n").separator() == ',');
  CHECK(table_of("sep=;\nid;a,b\nx;1\n").separator() == ';');
  CHECK(table_of("\"a,b\";c\n1;2\n").columns().front() == "a,b");
  // Two marks in the header: only one of them gives rows of equal length.
  CHECK(table_of("id;size, mm;note\nx;1;y\n").separator() == ';');
  CHECK(parse_fault("a,b;c\n").find("more than one kind of separator") != std::string::npos);
}

TEST_CASE("a table takes any line end, also at the last line", "[core]") {
  for (const char* text : {"id,a\nx,1\ny,2", "id,a\r\nx,1\r\ny,2\r\n", "id,a\rx,1\ry,2\r"}) {
    const CsvTable table = table_of(text);
    CHECK(table.row_count() == 2);
    CHECK(table.text(1, "a") == "2");
    CHECK(table.line(1) == 3);
  }
}

TEST_CASE("decimal marks follow the separator", "[core]") {
  CHECK(table_of("id,a\nx,1.5\n").number(0, "a") == 1.5);
  CHECK(table_of("id;a\nx;1,5\n").number(0, "a") == 1.5);
  CHECK(table_of("id;a\nx;1.5\n").number(0, "a") == 1.5);
  CHECK(table_of("id\ta\nx\t1,5\n").number(0, "a") == 1.5);
  CHECK(table_of("id;a\nx;1,234\n").number(0, "a") == 1.234);
  CHECK(table_of("id;a\nx;12\n").number(0, "a") == 12.0);
  CHECK(table_of("id,a\nx,\"1,5\"\n").number(0, "a") == 1.5);
  CHECK(table_of("id,a\nx,1.234\ny,\"1,5\"\n").number(0, "a") == 1.234);
}

TEST_CASE("a quoted comma between commas is decimal only where it cannot group", "[core]") {
  CHECK(number_fault("id,a\nx,\"1,234\"\n", "a") ==
        "t.csv: row 2, column a: found \"1,234\"; wanted a number that cannot be read in two "
        "ways: the comma may group digits here. Write a decimal point, or no mark where the "
        "comma groups digits.");
  CHECK(table_of("id,a\nx,\"1,234\"\ny,\"1,5\"\n").number(0, "a") == 1.234);
  CHECK(number_fault("id,a\nx,\"1,234\"\ny,1.5\nz,\"2,5\"\n", "a").find("two ways") !=
        std::string::npos);
  CHECK(number_fault("id,a\nx,\"1,234.5\"\n", "a").find("without digit grouping") !=
        std::string::npos);
}

TEST_CASE("a number that may be grouped digits is refused, not guessed", "[core]") {
  // 1.234 beside 2,5: one thousand two hundred or one and a bit?
  const std::string mixed = "a;b\n1.234;2,5\n";
  CHECK(number_fault(mixed, "a").find("wanted one decimal mark throughout") !=
        std::string::npos);
  CHECK(table_of(mixed).number(0, "b") == 2.5);
  CHECK(number_fault("a;b\n1,234;2.5\n", "a").find("one decimal mark") != std::string::npos);
  CHECK(table_of("a;b\n0.234;2,5\n").number(0, "a") == 0.234);
  CHECK(table_of("a;b\n.234;2,5\n").number(0, "a") == 0.234);
  CHECK(table_of("a;b\n1.2345;2,5\n").number(0, "a") == 1.2345);
  CHECK(number_fault("a;b\n1.234,5;1\n", "a").find("without digit grouping") !=
        std::string::npos);
  CHECK(number_fault("a;b\n1.234.567;1\n", "a").find("wanted a number") != std::string::npos);
}

TEST_CASE("fields are asked for by row and column", "[core]") {
  const CsvTable table = table_of("id,a,b\nx,1,\n");
  CHECK(table.has_column("a"));
  CHECK_FALSE(table.has_column("c"));
  CHECK(table.optional_number(0, "a") == 1.0);
  CHECK_FALSE(table.optional_number(0, "b").has_value());
  CHECK_FALSE(table.optional_number(0, "c").has_value());
  CHECK_FALSE(table.optional_text(0, "b").has_value());
  CHECK(table.optional_text(0, "id") == std::string("x"));
  CHECK(table.text(0, "b").empty());
  CHECK(fault_of([&] { static_cast<void>(table.number(0, "b")); }) ==
        "t.csv: row 2, column b: found nothing; wanted a number. Write digits and one decimal "
        "mark, without a unit.");
  CHECK(
      fault_of([&] { static_cast<void>(table.text(0, "Id")); }) ==
      "t.csv: header: found no column Id; wanted a column of that name. Is id meant to be it? "
      "Rename it.");
  CHECK_THROWS_AS(table.text(1, "id"), std::logic_error);
}

TEST_CASE("text in a number names the place", "[core]") {
  CHECK(number_fault("id,a\nx,4 mm\n", "a") ==
        "t.csv: row 2, column a: found \"4 mm\"; wanted a number. Write digits and one decimal "
        "mark, without a unit.");
}

TEST_CASE("columns are checked against the known ones", "[core]") {
  const CsvTable table = table_of("id,widht_mm\nx,1\n");
  const std::string unknown = fault_of([&] { table.check_columns({"id", "width_mm"}); });
  CHECK(
      unknown ==
      "t.csv: header: found unknown column widht_mm; wanted one of id, width_mm. Did you mean "
      "width_mm?");
  CHECK(fault_of([&] {
          table.check_columns({"id", "note"});
        }).find("Rename the column") != std::string::npos);
  CHECK(fault_of([&] {
          table.require_columns({"id", "width_mm"});
        }).find("no column width_mm") != std::string::npos);
  table.check_columns({"id", "widht_mm", "more"});
  table.require_columns({"id"});
}

TEST_CASE("a table that cannot be trusted is refused with its row", "[core]") {
  CHECK(parse_fault("id,a,id\n") ==
        "t.csv: row 1: found column id twice; wanted each column name once. Rename or take out "
        "one of the two.");
  CHECK(parse_fault("id,,b\n").find("column 2 without a name") != std::string::npos);
  CHECK(parse_fault("").find("an empty table") != std::string::npos);
  CHECK(parse_fault("\n\n,,\n").find("an empty table") != std::string::npos);
  CHECK(parse_fault("id,a\nx,1,2\n").find("row 2: found 3 fields; wanted 2 fields") !=
        std::string::npos);
  CHECK(parse_fault("id,a\nx\n").find("row 2: found 1 fields") != std::string::npos);
  CHECK(parse_fault("id,a\nx,1\ny,\"2\n").find("row 3: found an opening quote") !=
        std::string::npos);
  CHECK(parse_fault("id,a\n\"x\"y,1\n").find("row 2: found \"y\" after the closing quote") !=
        std::string::npos);
}

TEST_CASE("rows and lines part where a quoted field has line breaks", "[core]") {
  const std::string text = "id,note\nx,\"one\ntwo\r\nthree\"\ny,4 mm\n";
  const CsvTable table = table_of(text);
  CHECK(table.line(0) == 2);
  CHECK(table.line(1) == 5);
  CHECK(table.place(1, "note") == "row 3 (line 5), column note");
  CHECK(parse_fault(text + "z,\"").find("row 4 (line 6)") != std::string::npos);
}

TEST_CASE("a table that is not UTF-8 is refused", "[core][truth]") {
  CHECK(parse_fault(std::string_view("\xFF\xFEi\0d\0", 6)).find("UTF-16") != std::string::npos);
  CHECK(parse_fault("id,a\nM\xFCller,1\n").find("line 2: found a byte that is not UTF-8") !=
        std::string::npos);
  CHECK(parse_fault(std::string_view("id\n\0\n", 5)).find("not UTF-8") != std::string::npos);
  // [RFC3629] 3: overlong, surrogate, beyond the last character, cut short.
  for (const char* bytes : {"\xC0\xAF",
                            "\xE0\x80\xAF",
                            "\xED\xA0\x80",
                            "\xF4\x90\x80\x80",
                            "\xF5\x80\x80\x80",
                            "\xE2\x82",
                            "\x80"}) {
    CHECK(parse_fault(std::string("id\n") + bytes + "\n") != "no fault");
  }
  // [RFC3629] 7: its examples.
  CHECK(table_of("id\nA\xE2\x89\xA2\xCE\x91.\n").text(0, "id").size() == 7);
  CHECK(table_of("id\n\xEF\xBB\xBF\xF0\xA3\x8E\xB4\n").text(0, "id").size() == 7);
}

TEST_CASE("the caller's faults get file, place and what was found", "[core]") {
  const CsvTable table = table_of("id,a\nx,-4\ny,\n");
  CHECK(std::string(table.fault(0, "a", "a width above 0 mm", "Measure it.").what()) ==
        "t.csv: row 2, column a: found \"-4\"; wanted a width above 0 mm. Measure it.");
  CHECK(std::string(table.fault(1, "a", "a width", "").what()) ==
        "t.csv: row 3, column a: found nothing; wanted a width.");
}

TEST_CASE("read_csv names a missing file", "[core]") {
  CHECK(fault_of([] {
          static_cast<void>(read_csv("no/such.csv"));
        }).find("no/such.csv: found no such file") == 0);
}

TEST_CASE("csv_line writes what a table reads", "[core]") {
  const std::vector<std::string> fields = {
      "plain", "a,b", "say \"so\"", " edge ", "two\nlines", "", "x;y"};
  CHECK(csv_line({"a", "b c", ""}) == "a,b c,\n");
  CHECK(csv_line({"a,b", "say \"so\""}) == "\"a,b\",\"say \"\"so\"\"\"\n");
  const CsvTable table =
      table_of(csv_line({"1", "2", "3", "4", "5", "6", "7"}) + csv_line(fields));
  for (std::size_t i = 0; i < fields.size(); ++i) {
    CHECK(table.text(0, std::to_string(i + 1)) == fields[i]);
  }
}
