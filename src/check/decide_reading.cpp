#include "check/decide_reading.h"

namespace layright {
namespace {

bool one_way(Reading r) { return r == Reading::right || r == Reading::wrong; }

std::string against(std::string_view what, Reading it, Reading word_of_person) {
  return std::string(what) + " reads " + std::string(word(it)) + ", but --incoming says " + std::string(word(word_of_person));
}

/// What of the ink that could be letters live text must cover to decide alone beside letters that were not understood.
constexpr double kMost = 0.6;

/// So few letters of live text make no line that could be read by its letters. In a font that is not trusted they may read the other way; in
/// one that is, they say nothing of letters beside them that were not understood, however large they are.
constexpr long kLone = 2;

void report_evidence(PageReading& out, ReadingEvidence const& evidence) {
  if (evidence.text) {
    out.text_right = evidence.text->right;
    out.text_wrong = evidence.text->wrong;
    out.layer = evidence.text->layer;
  }
  if (!evidence.letters) return;
  out.letters = evidence.letters->letters;
  out.by_letters = evidence.letters->by_letters;
  out.lines = evidence.letters->lines;
  out.letters_unread = evidence.letters->letters_unread;
  out.words = evidence.letters->words;
}

/// Live text speaks for itself only; what else looks like letters must agree, or be little.
PageReading by_live_text(PageReading out, TextReadingResult const& text, PageReading const* letters) {
  Reading const other = letters ? letters->by_letters : Reading::unknown;
  out.reading = text.reading;
  out.from = "text";
  out.where = text.where;
  if (other == Reading::mixed || (one_way(other) && other != text.reading)) {
    out.reading = Reading::mixed;
    out.from = "letters";
    out.where.insert(out.where.end(), letters->where.begin(), letters->where.end());
    out.where.insert(out.where.end(), text.text.begin(), text.text.end());
  } else if (letters && other == Reading::unknown && out.letters == LettersSeen::not_understood &&
             (text.right + text.wrong <= kLone || text.area < kMost * (text.area + out.letters_unread))) {
    out.reading = Reading::unknown;
    out.from = "none";
    out.where.clear();
  }
  if (out.from == "text" && other != text.reading) out.words.clear();  // nothing that was understood
  return out;
}

PageReading assume(PageReading out, Target const& target) {
  auto const granted = taken_for_granted(target, out.letters != LettersSeen::none);
  if (granted == UnknownReads::hold || target.reading == WantedReading::as_is) return out;
  out.reading = granted == UnknownReads::right ? Reading::right : Reading::wrong;
  out.from = "assumed";
  return out;
}

}  // namespace

Reading reading_by(LayRecord const& record) { return record.reversed ? reversed(record.reading) : record.reading; }

PageReading decide_reading(ReadingEvidence const& evidence, Target const& target) {
  PageReading out;
  Reading const by_record = evidence.record ? reading_by(*evidence.record) : Reading::unknown;
  Reading const by_text = evidence.text ? evidence.text->reading : Reading::unknown;
  if (evidence.incoming) {
    out.reading = *evidence.incoming;
    out.from = "operator";
    if (one_way(by_record) && by_record != out.reading)
      out.conflict = against("the page, by the record that layright wrote into it,", by_record, out.reading);
    else if (one_way(by_text) && by_text != out.reading) out.conflict = against("the page's live text", by_text, out.reading);
    else if (by_text == Reading::mixed) out.conflict = "the page's live text reads both ways, but --incoming says " + std::string(word(out.reading));
    else if (evidence.letters && one_way(evidence.letters->by_letters) && evidence.letters->by_letters != out.reading)
      out.conflict = against("the page, by its letters,", evidence.letters->by_letters, out.reading);
    else if (evidence.letters && evidence.letters->by_letters == Reading::mixed)
      out.conflict = "the page's letters read both ways, but --incoming says " + std::string(word(out.reading));
    report_evidence(out, evidence);
    out.words.clear();
    if (by_text == Reading::mixed || !out.conflict.empty())
      if (evidence.text) out.where = evidence.text->where;
    return out;
  }
  if (by_record != Reading::unknown) {
    out.reading = by_record;
    out.from = "record";
    return out;
  }
  report_evidence(out, evidence);
  if (by_text != Reading::unknown) return by_live_text(out, *evidence.text, evidence.letters);
  bool const lone = evidence.text && evidence.text->doubted > 0 && evidence.text->doubted <= kLone;
  if ((one_way(out.by_letters) && !lone) || out.by_letters == Reading::mixed) {
    out.reading = out.by_letters;
    out.from = "letters";
    out.where = evidence.letters->where;
    return out;
  }
  // In doubt there are letters: where nobody could look, and where there is live text or a layer of it that tells nothing.
  bool const live = evidence.text && (evidence.text->symmetric > 0 || evidence.text->doubted > 0 || evidence.text->layer_on_picture);
  if ((out.letters == LettersSeen::none && live) || lone) out.letters = LettersSeen::not_understood;
  return assume(out, target);
}

}  // namespace layright
