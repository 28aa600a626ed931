// The number of a job as a scanner types it.
#include "watch/job_code.h"

#include <catch2/catch.hpp>

using namespace layright;

TEST_CASE("a job's number is taken as a scanner types it, with what it types behind") {
  auto const [typed, intake, id] = GENERATE(table<std::string, std::string, long long>({
      {"17", "", 17},
      {"17\n", "", 17},
      {"17 ", "", 17},
      {"\t17\r\n", "", 17},
      {"front-desk:17\n", "front-desk", 17},
      {"a:b:17", "a:b", 17},
  }));
  auto const code = parse_job_code(typed);
  REQUIRE(code);
  CHECK(code->intake == intake);
  CHECK(code->id == id);
}

TEST_CASE("what is no number of a job is refused") {
  auto const typed = GENERATE("", " ", "seventeen", "17a", "0", "-3", ":17", "17:", "1 7", "99999999999999999999");
  CHECK_FALSE(parse_job_code(typed));
}

TEST_CASE("the code names the intake only where the number would not tell") {
  LedgerEntry entry;
  entry.id = 17;
  entry.intake = "front";
  Configuration one;
  one.intakes["front"].ledger = one.intakes["back"].ledger = "intake.db";
  CHECK(job_code(entry, one) == "17");
  one.intakes["back"].ledger = "other.db";
  CHECK(job_code(entry, one) == "front:17");
  CHECK(parse_job_code(job_code(entry, one)).value().intake == "front");
  entry.intake = "caf\xC3\xA9";
  CHECK(job_code(entry, one) == "17");  // Code 128 has no such letter
}
