// SPDX-License-Identifier: Apache-2.0
#include "cli/commands.h"
#include "core/text_file.h"
#include "view/sheet.h"

#include <filesystem>
#include <iostream>
#include <map>
#include <memory>

#include <CLI/CLI.hpp>

namespace swingloss {
namespace {

struct SheetArgs {
  std::string out = ".";
  Paper paper = Paper::A4;
};

ExitCode sheet(const SheetArgs& args, const Session& session) {
  for (const SheetPage& page : sheets_for(args.paper)) {
    const std::string stem = (std::filesystem::path(args.out) / page.name).string();
    write_file(stem + ".svg", sheet_svg(page));
    write_file(stem + ".pdf", sheet_pdf(page));
    write_file(stem + ".png", sheet_png(page));
    if (session.quiet) continue;
    for (const char* ending : {".svg", ".pdf", ".png"}) std::cout << stem + ending << "\n";
  }
  if (!session.quiet) {
    std::cout
        << "Print at 100 % (\"actual size\"), then measure the ruler on the print and give "
           "its length to swingloss surface --ruler.\n";
  }
  return ExitCode::Done;
}

}  // namespace

void add_sheet_command(CLI::App& app, Session& session) {
  const auto args = std::make_shared<SheetArgs>();
  CLI::App* command =
      app.add_subcommand("sheet", "Scale cards and stickers to print, as SVG, PDF and PNG");
  command->add_option("--out", args->out, "folder to write to")->capture_default_str();
  const std::map<std::string, Paper> papers = {{"a4", Paper::A4}, {"letter", Paper::Letter}};
  command->add_option("--paper", args->paper, "a4 or letter")
      ->transform(CLI::CheckedTransformer(papers, CLI::ignore_case))
      ->default_str("a4");
  command->footer("Example:\n  swingloss sheet --out print --paper letter");
  command->callback([args, &session] { session.end = sheet(*args, session); });
}

}  // namespace swingloss
