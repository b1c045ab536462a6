#pragma once

/// Everything that thole throws. A check that fails is a result, never an exception.

#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace thole {

class Error : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// A text that is no value with a unit, or has the wrong dimension.
class UnitError : public Error {
 public:
  using Error::Error;
};

/// An argument outside the domain of a function.
class DomainError : public Error {
 public:
  using Error::Error;
};

/// A name that is in no table.
class UnknownName : public Error {
 public:
  using Error::Error;
};

/// A result that our own invariants exclude: a bug, never the user's fault.
class InternalError : public Error {
 public:
  using Error::Error;
};

/// One thing wrong with an input text, with its place (line and column count from 1).
struct Problem {
  std::string file;
  int line = 0;
  int column = 0;
  int width = 1;        ///< how many characters the caret line underlines
  std::string message;  ///< what was found, what was expected
  std::string excerpt;  ///< the line itself
};

/// `file:line:column: message`, then the line with a caret under the place.
[[nodiscard]] std::string to_text(const Problem& problem);

/// All problems of one input text, in the order of their places.
class InputError : public Error {
 public:
  explicit InputError(std::vector<Problem> problems);
  [[nodiscard]] const std::vector<Problem>& problems() const { return problems_; }

 private:
  std::vector<Problem> problems_;
};

}  // namespace thole
