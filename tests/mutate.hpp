#pragma once

// For tests/mutate: many changes in one object, one of which acts, the one that the environment
// variable THOLE_CHANGE names. `a < b` is written  a < Tag<7, turned> < b , which keeps precedence
// and order. What does not compile so is compiled by itself.

#include <algorithm>
#include <cstdlib>
#include <initializer_list>
#include <utility>

namespace mutate {

inline const int acting = [] {
  const char* text = std::getenv("THOLE_CHANGE");
  return text == nullptr ? 0 : std::atoi(text);
}();
inline bool on(int n) { return acting == n; }

template <int n, class New>
struct Tag {};
template <int n, class New, class A>
struct Left {
  A a;
};
template <int n, class New, class B>
struct Right {
  B b;
};

#define MUTATE_BETWEEN(NAME, OP)                                            \
  struct NAME {                                                             \
    template <class A, class B>                                             \
    static auto of(A&& a, B&& b) {                                          \
      return std::forward<A>(a) OP std::forward<B>(b);                      \
    }                                                                       \
  };                                                                        \
  template <class A, int n, class New>                                      \
  Left<n, New, A&&> operator OP(A&& a, Tag<n, New>) {                       \
    return {std::forward<A>(a)};                                            \
  }                                                                         \
  template <class A, int n, class New, class B>                             \
  auto operator OP(Left<n, New, A>&& left, B&& b) {                         \
    if (on(n)) return New::of(std::forward<A>(left.a), std::forward<B>(b)); \
    return std::forward<A>(left.a) OP std::forward<B>(b);                   \
  }

MUTATE_BETWEEN(Plus, +)
MUTATE_BETWEEN(Minus, -)
MUTATE_BETWEEN(Times, *)
MUTATE_BETWEEN(Over, /)
MUTATE_BETWEEN(Less, <)
MUTATE_BETWEEN(LessEqual, <=)
MUTATE_BETWEEN(Greater, >)
MUTATE_BETWEEN(GreaterEqual, >=)
MUTATE_BETWEEN(Equal, ==)
MUTATE_BETWEEN(NotEqual, !=)
#undef MUTATE_BETWEEN

#define MUTATE_ASSIGNS(NAME, OP)                       \
  struct NAME {                                        \
    template <class A, class B>                        \
    static void to(A&& a, B&& b) {                     \
      a OP std::forward<B>(b);                         \
    }                                                  \
  };                                                   \
  template <int n, class New, class B>                 \
  Right<n, New, B&&> operator OP(Tag<n, New>, B&& b) { \
    return {std::forward<B>(b)};                       \
  }                                                    \
  template <class A, int n, class New, class B>        \
  void operator OP(A&& a, Right<n, New, B>&& right) {  \
    if (on(n)) {                                       \
      New::to(a, std::forward<B>(right.b));            \
    } else {                                           \
      a OP std::forward<B>(right.b);                   \
    }                                                  \
  }

MUTATE_ASSIGNS(PlusAssign, +=)
MUTATE_ASSIGNS(MinusAssign, -=)
MUTATE_ASSIGNS(TimesAssign, *=)
MUTATE_ASSIGNS(OverAssign, /=)
#undef MUTATE_ASSIGNS

template <int n, bool least>
struct MinMax {
  template <class T>
  static T of(const T& a, const T& b) {
    return on(n) != least ? std::min(a, b) : std::max(a, b);
  }
  template <class T>
  static T of(std::initializer_list<T> all) {
    return on(n) != least ? std::min(all) : std::max(all);
  }
};

}  // namespace mutate
