#include "report/short_names.hpp"

#include "report/text.hpp"

namespace thole {

ShortNames::ShortNames(const Setup& setup, std::size_t longest) {
  for (const Gear& g : setup.gear) add(g.name, longest);
  if (!setup.on_board()) {
    const auto& bracket = setup.plate().bracket;
    if (bracket && bracket->fitting) add(bracket->fitting->name, longest);
    return;
  }
  for (const HoldDown& h : setup.board().hold_downs) add(h.name, longest);
  for (const Leg& l : setup.board().legs) add(l.name, longest);
}

void ShortNames::add(const std::string& name, std::size_t longest) {
  std::string shown = text::plain(name, longest);
  if (!name.empty() && shown != name) names_.emplace_back(name, std::move(shown));
}

std::string ShortNames::in(std::string text) const {
  for (const auto& [name, shown] : names_) {
    for (std::size_t at = text.find(name); at != std::string::npos;
         at = text.find(name, at + shown.size())) {
      text.replace(at, name.size(), shown);
    }
  }
  return text::plain(text);
}

}  // namespace thole
