#include "support/private_cups.h"

#include <unistd.h>

#include <atomic>
#include <fstream>
#include <stdexcept>

#include "support/pdf_maker.h"
#include "support/program.h"
#include "support/test_printer.h"

namespace fs = std::filesystem;
using layright::test::read_file;
using layright::test::shell;

PrivateCups::PrivateCups() {
  static std::atomic<int> count{0};
  folder = fs::temp_directory_path() / ("layright-cups-" + std::to_string(getpid()) + "-" + std::to_string(count++));
  for (char const* name : {"etc/ppd", "spool/tmp", "cache", "state", "log"}) fs::create_directories(folder / name);
  port = free_port();
  std::string const d = folder.string();
  std::ofstream(folder / "cupsd.conf") << "Listen 127.0.0.1:" << port << "\nLogLevel debug\nBrowsing Off\nDefaultAuthType None\nWebInterface No\n"
                                       << "<Location />\n  Order allow,deny\n  Allow 127.0.0.1\n</Location>\n"
                                       << "<Policy default>\n  <Limit All>\n    Order deny,allow\n  </Limit>\n</Policy>\n";
  std::ofstream(folder / "cups-files.conf") << "ServerRoot " << d << "/etc\nServerBin /usr/lib/cups\nDataDir /usr/share/cups\nRequestRoot " << d
                                            << "/spool\nTempDir " << d << "/spool/tmp\nCacheDir " << d << "/cache\nStateDir " << d
                                            << "/state\nAccessLog " << d << "/log/access\nErrorLog " << d << "/log/error\nPageLog " << d
                                            << "/log/page\nFileDevice Yes\nSystemGroup root\nUser lp\nGroup lp\n";
  shell("chmod 755 '" + d + "'; chown -R lp:lp '" + d + "'");
  server_ = start_command("exec timeout 300 cupsd -f -c '" + d + "/cupsd.conf' -s '" + d + "/cups-files.conf' >'" + d + "/log/out' 2>&1");
  if (!wait_for_port(port)) throw std::runtime_error("cupsd did not start (cups-daemon)");
}

PrivateCups::~PrivateCups() {
  end_command(server_);
  std::error_code ignored;
  fs::remove_all(folder, ignored);
}

std::string PrivateCups::server() const { return "127.0.0.1:" + std::to_string(port); }

std::string PrivateCups::command(std::string const& words) const {
  return shell("export CUPS_SERVER=" + server() + " CUPS_SERVERROOT='" + (folder / "etc").string() + "' HOME='" + folder.string() + "'; " + words);
}

void PrivateCups::add(std::string const& name, std::string const& ppd, std::string const& more) const {
  auto const out = output(name).string();
  auto const said = command("touch '" + out + "'; chmod 666 '" + out + "'; lpadmin -p " + name + " -E -v 'file:" + out + "' " +
                            (ppd.empty() ? "" : "-P '" + ppd + "' ") + more);
  if (said.find("rror") != std::string::npos) throw std::runtime_error("lpadmin: " + said);
}

std::string PrivateCups::address(std::string const& name) const { return "ipp://localhost:" + std::to_string(port) + "/printers/" + name; }
fs::path PrivateCups::output(std::string const& name) const { return folder / (name + ".ps"); }
std::string PrivateCups::printed(std::string const& name) const { return read_file(output(name)); }
