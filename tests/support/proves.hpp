#pragma once

/// Which failure mode of the catalogue is checked against which outside source.
///
/// Test files register at namespace scope:
///     [[maybe_unused]] const bool registered = proves("pull-over", "Aluminum Design Manual ...");

#include <string>
#include <vector>

namespace thole::test {

struct Proof {
  std::string mode;    ///< id in the catalogue of failure modes
  std::string source;  ///< document and place of the published figure
};

inline std::vector<Proof>& proofs() {
  static std::vector<Proof> all;
  return all;
}

inline bool proves(const char* mode_id, const char* source) {
  proofs().push_back({mode_id, source});
  return true;
}

}  // namespace thole::test
