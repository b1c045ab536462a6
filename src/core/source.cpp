#include <thole/error.hpp>
#include <thole/known.hpp>
#include <thole/source.hpp>

namespace thole {

std::string_view word_for(Seen seen) {
  switch (seen) {
    case Seen::page:
      return "page";
    case Seen::copy:
      return "copy";
    case Seen::memory:
      return "memory";
    case Seen::practice:
      return "practice";
    case Seen::judgement:
      return "judgement";
    case Seen::computed:
      return "computed";
  }
  throw InternalError("a way of seeing without a word");
}

std::string_view sentence_for(Seen seen) {
  switch (seen) {
    case Seen::page:
      return "page seen";
    case Seen::copy:
      return "seen in copies only";
    case Seen::memory:
      return "from memory";
    case Seen::practice:
      return "common practice, no source";
    case Seen::judgement:
      return "a choice of this project";
    case Seen::computed:
      return "derived and checked numerically";
  }
  throw InternalError("a way of seeing without a sentence");
}

std::string to_text(const Citation& c) {
  std::string out = c.title;
  if (!c.place.empty()) out += ", " + c.place;
  if (c.seen == Seen::practice) return out.empty() ? "common practice, no source" : out;
  return out + " (" + std::string(sentence_for(c.seen)) + ")";
}

std::string_view word_for(Knowledge k) {
  switch (k) {
    case Knowledge::measured:
      return "measured";
    case Knowledge::tagged:
      return "tagged";
    case Knowledge::assumed:
      return "assumed";
  }
  throw InternalError("a way of knowing without a word");
}

}  // namespace thole
