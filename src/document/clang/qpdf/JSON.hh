// In place of qpdf's own header of this name, for clang only (CMakeLists.txt, part_qpdf). qpdf 11.3's holds a vector of a class that is
// not whole yet, which clang 14 refuses in C++20. Nothing here uses qpdf's JSON; its other headers only name the class.
#pragma once
#include <functional>
#include <list>
#include <map>
#include <memory>
#include <set>
#include <stdexcept>
#include <string>
#include <vector>

class JSON;
class InputSource;
