// Runs what a page prints through a device, in sections: its content, its annotations, its form fields, and what the library leaves
// out although it prints.
#pragma once
#include "mupdf/library.h"

namespace layright {

enum class PageSection { content, annotations, widgets, left_out };
inline constexpr PageSection kPageSections[] = {PageSection::content, PageSection::annotations, PageSection::widgets, PageSection::left_out};

/// False when the library broke off. `matrix` comes after the page's own.
bool run_section(fz_context* ctx, pdf_page* page, PageSection section, fz_device* device, fz_matrix matrix, fz_cookie* cookie);

}  // namespace layright
