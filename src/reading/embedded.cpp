#include "reading/embedded.hpp"

namespace thole::reading {
namespace {

class Reader {
 public:
  explicit Reader(const FlatDocument& flat) : flat_(flat) {}

  Node node() {
    const FlatNode& f = next();
    Node n;
    n.kind = static_cast<Node::Kind>(f.kind);
    n.mark = {f.line, f.column};
    n.text = f.text;
    n.quoted = f.quoted;
    n.items.reserve(f.count);
    for (unsigned i = 0; i < f.count; ++i) {
      if (n.kind == Node::Kind::map) {
        const FlatNode& key = next();
        n.keys.emplace_back(key.text);
        n.key_marks.push_back({key.line, key.column});
      }
      n.items.push_back(node());
    }
    return n;
  }

  [[nodiscard]] bool at_end() const { return at_ == flat_.node_count; }

 private:
  const FlatNode& next() {
    if (at_end()) throw InternalError("an embedded table ends too early");
    return flat_.nodes[at_++];
  }

  const FlatDocument& flat_;
  std::size_t at_ = 0;
};

}  // namespace

Document unflatten(const FlatDocument& flat) {
  Document doc;
  doc.file = flat.file;
  Reader reader(flat);
  doc.root = reader.node();
  if (!reader.at_end()) throw InternalError("an embedded table has nodes left over");
  return doc;
}

}  // namespace thole::reading
