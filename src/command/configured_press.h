// A press of layright.toml as it answers now.
#pragma once
#include <string>
#include <vector>

#include "report/page_json.h"
#include "setup/service.h"
#include "sheet/configuration.h"

namespace layright {

struct ConfiguredPress {
  struct Suits {
    std::string target;
    bool suits = false;
    std::string why;  // in plain words, either way
  };
  std::string name, address;          // no address: it has none, and nobody can ask it
  std::string model, state;           // state: idle, printing, stopped, takes no jobs now, or empty: it does not answer
  std::vector<std::string> troubles;  // what it says is wrong, in plain words; or why it does not answer
  std::vector<Suits> targets;         // of those that name this press
};

/// RFC 8011, 5.4.11: idle, printing, stopped; "takes no jobs now" where it says so, "state unknown" where it says nothing.
std::string press_state(Offer const& offer);
/// The first value of an attribute, or empty.
std::string first_of(Offer const& offer, char const* attribute);

/// Asks it, and takes at most `seconds` for that.
ConfiguredPress ask_configured(Configuration const& configuration, Press const& press, double seconds);
Json configured_press_json(ConfiguredPress const& press);

}  // namespace layright
