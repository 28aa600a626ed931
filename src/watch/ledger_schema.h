// The tables of the ledger, version by version.
#pragma once
#include <array>

namespace layright {

inline constexpr int kApplication = 0x6c617972;  // "layr": tells a ledger from other SQLite files

/// What each version adds to the one before it. A ledger's user_version is how many of these it has.
inline constexpr std::array kSteps = {
    R"(CREATE TABLE entry(
         id INTEGER PRIMARY KEY AUTOINCREMENT, intake TEXT NOT NULL, name BLOB NOT NULL, digest TEXT NOT NULL,
         device INTEGER NOT NULL, inode INTEGER NOT NULL, bytes INTEGER NOT NULL, modified_ns INTEGER NOT NULL,
         arrived INTEGER NOT NULL, changed INTEGER NOT NULL, state TEXT NOT NULL, next TEXT NOT NULL,
         place BLOB NOT NULL, goes_to BLOB NOT NULL, place_key BLOB NOT NULL, goes_key BLOB NOT NULL,
         target TEXT NOT NULL, copies INTEGER NOT NULL, run INTEGER NOT NULL, tries INTEGER NOT NULL, interrupted INTEGER NOT NULL,
         verdict TEXT NOT NULL, reason TEXT NOT NULL, findings TEXT NOT NULL, same_as INTEGER NOT NULL, decision TEXT NOT NULL,
         send TEXT NOT NULL, send_name TEXT NOT NULL, send_told TEXT NOT NULL, press_job INTEGER NOT NULL,
         render TEXT NOT NULL);
       CREATE TABLE output(
         id INTEGER PRIMARY KEY AUTOINCREMENT, entry INTEGER NOT NULL REFERENCES entry(id), run INTEGER NOT NULL, kind TEXT NOT NULL,
         path BLOB NOT NULL, path_key BLOB NOT NULL, digest TEXT NOT NULL, bytes INTEGER NOT NULL, there INTEGER NOT NULL,
         made INTEGER NOT NULL, pages INTEGER NOT NULL, copies INTEGER NOT NULL);
       CREATE TABLE event(entry INTEGER NOT NULL REFERENCES entry(id), at INTEGER NOT NULL, who TEXT NOT NULL, what TEXT NOT NULL,
         why TEXT NOT NULL);
       CREATE INDEX entry_digest ON entry(digest);
       CREATE INDEX entry_place ON entry(place_key);
       CREATE INDEX entry_arrived ON entry(arrived);
       CREATE INDEX output_entry ON output(entry);
       CREATE INDEX output_path ON output(path_key);
       CREATE INDEX event_entry ON event(entry);)",
    R"(CREATE TABLE spoiled(entry INTEGER NOT NULL REFERENCES entry(id), at INTEGER NOT NULL, who TEXT NOT NULL, sheets INTEGER NOT NULL,
         why TEXT NOT NULL);
       CREATE INDEX entry_unfinished ON entry(id) WHERE state IN ('moving','taken','placing') OR decision <> '' OR send IN ('wanted','sending');
       CREATE INDEX entry_going ON entry(goes_key) WHERE state = 'moving';)",
    R"(CREATE TABLE watcher(mark TEXT NOT NULL);)"};

}  // namespace layright
