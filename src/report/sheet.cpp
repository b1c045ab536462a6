#include <boost/uuid/detail/sha1.hpp>

#include <fmt/format.h>

#include <thole/sheet.hpp>

#include "report/cards.hpp"
#include "report/html.hpp"
#include "report/pictures.hpp"
#include "report/sheet_style.hpp"

namespace thole {

AssessOptions sheet_options() {
  AssessOptions options;
  options.one_missing = true;
  options.by_direction = true;
  options.after_loss = true;
  options.margins = true;
  options.forces = true;
  return options;
}

std::string file_hash(const std::string& text) {
  boost::uuids::detail::sha1 sha;
  sha.process_bytes(text.data(), text.size());
  unsigned int digest[5];
  sha.get_digest(digest);
  std::string out;
  for (const unsigned int word : digest) out += fmt::format("{:08x}", word);
  return out;
}

std::string sheet_html(const SheetContent&) { return ""; }

}  // namespace thole
