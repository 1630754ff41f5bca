#include <iostream>

#include "cli/program.h"

int main(int argc, char** argv) {
    std::ios::sync_with_stdio(false);
    return gripline::run_program({argv + 1, argv + argc}, std::cout, std::cerr);
}
