#include "support/pdf_maker.h"

#include <cstdio>
#include <fstream>
#include <iterator>
#include <stdexcept>

namespace layright::test {
namespace {

using Entries = std::map<std::string, std::string>;

std::string dictionary(Entries const& entries) {
  std::string out = "<<";
  for (auto const& [key, value] : entries) out += " /" + key + " " + value;
  return out + " >>";
}

std::string resources_of(std::map<std::string, Entries> const& kinds) {
  Entries out;
  for (auto const& [kind, names] : kinds) out[kind] = dictionary(names);
  return dictionary(out);
}

std::string list_of(std::vector<Ref> const& refs) {
  std::string out = "[";
  for (auto const ref : refs) out += " " + ref.text();
  return out + " ]";
}

std::string raw_samples(std::vector<std::uint8_t> const& samples) { return {samples.begin(), samples.end()}; }

std::string image_entries(int width, int height, std::string const& space, std::string const& more) {
  return "/Type /XObject /Subtype /Image /Width " + std::to_string(width) + " /Height " + std::to_string(height) + " /ColorSpace /" + space +
         " /BitsPerComponent 8 " + more;
}

/// Header, objects, cross-reference table and trailer (ISO 32000-1, 7.5).
std::string file_of(std::string const& version, std::vector<std::string> const& objects, Entries trailer) {
  std::string out = "%PDF-" + version + "\n%\xE2\xE3\xCF\xD3\n", table;
  char row[24];
  for (std::size_t i = 0; i < objects.size(); ++i) {
    bool const there = !objects[i].empty();
    std::snprintf(row, sizeof row, "%010zu %05d %c \n", there ? out.size() : 0, there ? 0 : 65535, there ? 'n' : 'f');
    table += row;
    if (there) out += std::to_string(i + 1) + " 0 obj\n" + objects[i] + "\nendobj\n";
  }
  std::string const size = std::to_string(objects.size() + 1);
  trailer.emplace("Size", size);
  std::string const start = std::to_string(out.size());
  return out + "xref\n0 " + size + "\n0000000000 65535 f \n" + table + "trailer\n" + dictionary(trailer) + "\nstartxref\n" + start + "\n%%EOF\n";
}

}  // namespace

PageMaker& PdfMaker::page() { return pages_.emplace_back(); }

Ref PdfMaker::object(std::string body) {
  objects_.push_back(std::move(body));
  return {static_cast<int>(objects_.size())};
}

Ref PdfMaker::reserve() { return object(""); }

void PdfMaker::fill(Ref ref, std::string body) { objects_.at(static_cast<std::size_t>(ref.number - 1)) = std::move(body); }

std::string PdfMaker::stream_body(std::string const& entries, std::string const& data) {
  return "<< " + entries + " /Length " + std::to_string(data.size()) + " >>\nstream\n" + data + "\nendstream";
}

Ref PdfMaker::stream(std::string const& entries, std::string const& data) { return object(stream_body(entries, data)); }

Ref PdfMaker::font(std::string const& base_font) { return object("<< /Type /Font /Subtype /Type1 /BaseFont /" + base_font + " >>"); }

Ref PdfMaker::image_rgb(int width, int height, std::vector<std::uint8_t> const& samples, std::string const& entries) {
  return stream(image_entries(width, height, "DeviceRGB", entries), raw_samples(samples));
}

Ref PdfMaker::image_gray(int width, int height, std::vector<std::uint8_t> const& samples, std::string const& entries) {
  return stream(image_entries(width, height, "DeviceGray", entries), raw_samples(samples));
}

Ref PdfMaker::form(std::string const& box, std::string const& operators, std::string const& entries) {
  return stream("/Type /XObject /Subtype /Form /BBox " + box + " " + entries, operators);
}

std::string PdfMaker::bytes() const {
  PdfMaker whole = *this;  // what is made only now must not be made twice by a second call
  auto const tree = whole.reserve();
  std::vector<Ref> kids;
  for (auto const& page : pages_) {
    Entries entries = page.entries_;
    entries.emplace("Type", "/Page");
    entries.emplace("Parent", tree.text());
    if (page.own_resources_) entries.emplace("Resources", resources_of(page.resources_));
    std::vector<Ref> contents, annotations;
    for (auto const& operators : page.contents_) contents.push_back(whole.stream("", operators));
    for (auto const& annotation : page.annotations_) annotations.push_back(whole.object("<< " + annotation + " >>"));
    if (!contents.empty()) entries.emplace("Contents", contents.size() == 1 ? contents[0].text() : list_of(contents));
    if (!annotations.empty()) entries.emplace("Annots", list_of(annotations));
    kids.push_back(whole.object(dictionary(entries)));
  }
  Entries pages = tree_, catalog = catalog_, trailer = trailer_;
  pages.emplace("Type", "/Pages");
  pages.emplace("Kids", list_of(kids));
  pages.emplace("Count", std::to_string(kids.size()));
  whole.fill(tree, dictionary(pages));
  catalog.emplace("Type", "/Catalog");
  catalog.emplace("Pages", tree.text());
  trailer.emplace("Root", whole.object(dictionary(catalog)).text());
  if (!info_.empty()) trailer.emplace("Info", whole.object(dictionary(info_)).text());
  return file_of(version_, whole.objects_, trailer);
}

void PdfMaker::save(std::filesystem::path const& path) const { write_file(path, bytes()); }

std::string one_page_pdf(std::string const& media, std::string const& operators) {
  PdfMaker pdf;
  pdf.page().media(media).content(operators);
  return pdf.bytes();
}

void write_file(std::filesystem::path const& path, std::string_view bytes) {
  std::ofstream out(path, std::ios::binary | std::ios::trunc);
  out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  if (!out.flush()) throw std::runtime_error("cannot write " + path.string());
}

std::string read_file(std::filesystem::path const& path) {
  std::ifstream in(path, std::ios::binary);
  if (!in) throw std::runtime_error("cannot read " + path.string());
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

}  // namespace layright::test
