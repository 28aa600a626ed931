#include "command/command.h"

int main(int argc, char** argv) { return layright::run_program(argc, argv); }
