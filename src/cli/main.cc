// SPDX-License-Identifier: Apache-2.0
#include "cli/program.h"

int main(int argc, char** argv) { return swingloss::run_swingloss(argc, argv); }
