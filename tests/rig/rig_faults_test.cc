// SPDX-License-Identifier: Apache-2.0
#include "core/input_error.h"
#include "rig/rig.h"
#include "support/test.h"

#include <string>

using namespace swingloss;
using namespace swingloss::test;

namespace {

/// A sound rig file whose members are `more`.
std::string rig_with(const std::string& more) {
  return "{ \"format\": \"swingloss/rig/1\", " + more + " }";
}

const std::string kWeighed = R"("mass_kg": { "value": 1.10, "u": 0.001 },
  "com_m": { "value": 0.365, "u": 0.0003 })";
const std::string kLength = R"("reduced_length_m": { "value": 0.392, "u": 0.0005 })";
const std::string kGravity = R"("gravity_m_per_s2": { "value": 9.80665, "u": 0.0001 })";
const std::string kSound = kWeighed + "," + kLength + "," + kGravity;

InputFault fault_of(const std::string& text) {
  try {
    read_rig_text(text, "bench.json");
  } catch (const InputError& error) {
    return error.fault();
  }
  FAIL("the file was accepted: " << text);
  return {};
}

bool mentions(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("every fault of a rig file names file, field, found, wanted and next", "[rig]") {
  struct Case {
    std::string text, place, found, wanted, next;
  };
  const Case cases[] = {
      {"{ \"format\": ", "line 1", "not JSON", "JSON", "right"},
      {"{ \"name\": \"a\",\n  \"mass_kg\": 1,5 }", "line 2", "not JSON", "decimal", ""},
      {"[1, 2]", "", "[1,2]", "an object", ""},
      {"{ \"mass_kg\": 1e999 }", "", "a number too large", "below 1e308", "exponents"},
      {"{ \"format\": \"swingloss/swing/1\" }",
       "field format",
       "swingloss/swing",
       "swingloss/rig/1",
       ""},
      {rig_with(kLength + "," + kGravity),
       "field moment_Nm",
       "nothing",
       "mass_kg with com_m",
       "scale"},
      {rig_with(kWeighed + "," + kGravity),
       "field reduced_length_m",
       "nothing",
       "period_small_s",
       "Time fifty"},
      {rig_with(kSound + ", \"massive_kg\": 3"),
       "field massive_kg",
       "that name",
       "mass_kg",
       "Did you mean mass_kg?"},
      {rig_with(kSound + ", \"colour\": \"red\""),
       "field colour",
       "that name",
       "mass_kg",
       "under note"},
      {rig_with(kSound + ", \"strike_radius\": 0.4"),
       "field strike_radius",
       "that name",
       "strike_radius_m",
       "Did you mean strike_radius_m?"},
      {rig_with("\"mass_kg\": \"1,1 kg\", \"com_m\": 0.3," + kLength),
       "field mass_kg",
       "1,1 kg",
       "a number",
       "Write 1.1 without quotes"},
      {rig_with("\"mass_kg\": { \"value\": null, \"u\": null }," + kLength),
       "field mass_kg.value",
       "null",
       "a number",
       "fill it in"},
      {rig_with("\"mass_kg\": { \"value\": 1.1 }," + kLength),
       "field mass_kg",
       "value",
       "\"u\"",
       "Add u"},
      {rig_with("\"mass_kg\": { \"value\": 1.1, \"u\": -0.1 }," + kLength),
       "field mass_kg.u",
       "-0.1",
       "0 or more",
       "sign"},
      {rig_with("\"mass_kg\": { \"value\": 1.1, \"u\": 1 }," + kLength),
       "field mass_kg.u",
       "1",
       "well below",
       "per cent"},
      {rig_with("\"mass_kg\": { \"value\": -1.1, \"u\": 0.1 }," + kLength),
       "field mass_kg.value",
       "-1.1",
       "0.05 to 100",
       "without a sign"},
      {rig_with("\"mass_kg\": 1100," + kLength),
       "field mass_kg",
       "1100",
       "0.05 to 100",
       "Did you mean 1100 g (write 1.1)?"},
      {rig_with("\"com_m\": 365," + kLength),
       "field com_m",
       "365",
       "0.03 to 2",
       "Did you mean 365 mm (write 0.365)?"},
      {rig_with("\"com_m\": 36.5," + kLength),
       "field com_m",
       "36.5",
       "0.03 to 2",
       "or 36.5 cm (write 0.365)?"},
      {rig_with(kSound + ", \"release_angle_deg\": 2.18"),
       "field release_angle_deg",
       "2.18",
       "10 to 175",
       "Did you mean 2.18 rad (write 124.905)?"},
      {rig_with(kWeighed + "," + kLength + ", \"gravity_m_per_s2\": 981"),
       "field gravity_m_per_s2",
       "981",
       "9.76 to 9.84",
       "unit"},
      {rig_with(kWeighed + "," + kLength + ", \"latitude_deg\": 520"),
       "field latitude_deg",
       "520",
       "-90 to 90",
       ""},
      {rig_with(kSound + ", \"zero\": \"by eye\""),
       "field zero",
       "by eye",
       "\"rest\"",
       "hanging rest"},
      {rig_with(kSound + ", \"name\": 7"), "field name", "7", "a text", "quotes"},
      {rig_with(kSound + ", \"friction\": 0.01"), "field friction", "0.01", "dry_Nm", "free"},
      {rig_with(kSound + ", \"friction\": { \"dry\": 0.01 }"),
       "field friction.dry",
       "that name",
       "dry_Nm",
       "Did you mean dry_Nm?"},
      {rig_with(kSound + ", \"friction\": { \"dry_Nm\": -0.01 }"),
       "field friction.dry_Nm",
       "-0.01",
       "0 or more",
       "sign"},
      {rig_with(kSound + R"(, "friction": { "dry_Nm": 0.01,
        "correlation": { "dry_linear": 1.5 } })"),
       "field friction.correlation.dry_linear",
       "1.5",
       "-1 to 1",
       ""},
      {rig_with(kSound + R"(, "friction": { "dry_Nm": 0.01, "correlation": {
        "dry_linear": 0.9, "dry_quadratic": 0.9, "linear_quadratic": -0.9 } })"),
       "field friction.correlation",
       "0.9",
       "true together",
       ""}};
  for (const Case& c : cases) {
    CAPTURE(c.text);
    const InputFault fault = fault_of(c.text);
    CAPTURE(InputError::sentence(fault));
    CHECK(fault.file == "bench.json");
    CHECK(mentions(fault.place, c.place));
    CHECK(mentions(fault.found, c.found));
    CHECK(mentions(fault.wanted, c.wanted));
    CHECK(mentions(fault.next, c.next));
  }
}
