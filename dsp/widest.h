// For the few loops that most of a verdict's time goes into: compiled twice, for any processor and for those with wider vectors, and chosen when the program starts.
#pragma once

// Multiplications and sums stay apart in both (no fused ones), so that answers are the same to the bit on every machine.
// The sanitizers' own start-up code would run after the choice is made, so they have the plain one.
#if defined(__x86_64__) && defined(__linux__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
#define GRIPLINE_WIDEST [[gnu::target_clones("avx2", "default")]]
#else
#define GRIPLINE_WIDEST
#endif
