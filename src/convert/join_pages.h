// Pages of several PDFs as one document, each as it is seen in its own.
#pragma once
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "base/result.h"
#include "document/document.h"

namespace layright {

class PageJoiner {
 public:
  PageJoiner();
  ~PageJoiner();
  /// Takes all pages of `document`, with its layers in the state they have there. The joiner keeps it, for its streams are copied at the end.
  /// Error (data): a page of it cannot be taken over; then what was joined so far is not to be used.
  Outcome add(std::unique_ptr<Document> document);
  /// To be called first: what the first file says of the press that its colors are meant for is said of all. Whether they agree is for the caller.
  void keep_output_intents();
  int page_count() const;
  /// Writes them. `alive` is called now and then. Errors: io, data.
  Outcome write(int descriptor, std::function<void()> const& alive);

 private:
  struct Members;
  std::unique_ptr<Members> m_;
};

}  // namespace layright
