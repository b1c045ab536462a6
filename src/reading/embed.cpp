/// thole_embed OUT.cpp FILE.yaml...: writes tables as C++ arrays (see embedded.hpp). Runs at build
/// time on the host.

#include <cstddef>
#include <cstdint>
#include <exception>
#include <fstream>
#include <iostream>
#include <limits>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "reading/embedded.hpp"

namespace {

using thole::reading::Document;
using thole::reading::Mark;
using thole::reading::Node;

/// Octal escapes have at most three digits, so nothing after them is swallowed as it would be with
/// hexadecimal ones. A question mark is escaped because of trigraphs.
std::string literal(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    const unsigned b = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\' || c == '?') {
      out += '\\';
      out += c;
    } else if (b >= 0x20U && b < 0x7FU) {
      out += c;
    } else {
      out += '\\';
      out += static_cast<char>('0' + (b >> 6U));
      out += static_cast<char>('0' + ((b >> 3U) & 7U));
      out += static_cast<char>('0' + (b & 7U));
    }
  }
  return out + '"';
}

void write_node(std::string& out, std::string_view text, Mark mark, std::size_t count,
                Node::Kind kind, bool quoted) {
  constexpr int most = std::numeric_limits<std::uint16_t>::max();
  if (mark.line > most || mark.column > most || count > std::size_t{most}) {
    throw thole::Error("a line, column or count above " + std::to_string(most) +
                       " cannot be embedded");
  }
  if (text.find('\0') != std::string_view::npos) {
    throw thole::Error("a text with a NUL cannot be embedded");
  }
  out += "    {" + literal(text) + ", " + std::to_string(mark.line) + ", " +
         std::to_string(mark.column) + ", " + std::to_string(count) + ", " +
         std::to_string(static_cast<int>(kind)) + ", " + (quoted ? "true" : "false") + "},\n";
}

std::size_t write_tree(std::string& out, const Node& node) {
  write_node(out, node.text, node.mark, node.items.size(), node.kind, node.quoted);
  std::size_t written = 1;
  for (std::size_t i = 0; i < node.items.size(); ++i) {
    if (node.kind == Node::Kind::map) {
      write_node(out, node.keys[i], node.key_marks[i], 0, Node::Kind::text, false);
      ++written;
    }
    written += write_tree(out, node.items[i]);
  }
  return written;
}

std::string read_file(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream text;
  if (!in || !(text << in.rdbuf())) throw thole::Error("cannot read " + path);
  return text.str();
}

void embed(const std::string& target, const std::vector<std::string>& paths) {
  std::string out =
      "// Written by thole_embed; do not edit.\n#include \"reading/embedded.hpp\"\n\n";
  out += "namespace thole::reading {\nnamespace {\n\n";
  std::string table;
  for (std::size_t i = 0; i < paths.size(); ++i) {
    // The name in messages does not depend on where the build takes place.
    const std::size_t slash = paths[i].find_last_of("/\\");
    const std::string file =
        "materials/" + paths[i].substr(slash == std::string::npos ? 0 : slash + 1);
    const Document doc = thole::reading::read_yaml(read_file(paths[i]), file);
    const std::string name = "nodes_" + std::to_string(i);
    out += "const FlatNode " + name + "[] = {\n";
    const std::size_t count = write_tree(out, doc.root);
    out += "};\n\n";
    table += "    {" + literal(file) + ", " + name + ", " + std::to_string(count) + "},\n";
  }
  out += "}  // namespace\n\nconst FlatDocument embedded_tables[] = {\n" + table + "};\n";
  out += "const std::size_t embedded_table_count = " + std::to_string(paths.size()) + ";\n\n";
  out += "}  // namespace thole::reading\n";

  std::ofstream file(target, std::ios::binary | std::ios::trunc);
  file << out;
  file.close();
  if (!file) throw thole::Error("cannot write " + target);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) {
    std::cerr << "usage: thole_embed OUT.cpp FILE.yaml...\n";
    return 2;
  }
  try {
    embed(argv[1], std::vector<std::string>(argv + 2, argv + argc));
  } catch (const std::exception& e) {
    std::cerr << e.what() << '\n';
    return 1;
  }
  return 0;
}
