#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "practice/seeded_draw.h"

using gripline::number_for;
using gripline::SeededDraw;

TEST_CASE("SplitMix64 from seed 1234567 gives the numbers that its published test vector names") {
    // The vector that goes with the public-domain splitmix64.c of S. Vigna, from memory; computed again by hand in Python's whole numbers.
    SeededDraw draw(1234567);
    for (const std::uint64_t wanted : {6457827717110365317ULL, 3203168211198807973ULL, 9817491932198370423ULL, 4593380528125082431ULL, 16408922859458223821ULL}) CHECK(draw.next() == wanted);
}

TEST_CASE("FNV-1a gives the published values of the empty text, \"a\" and \"foobar\"") {
    // Fowler, Noll, Vo, Eastlake: The FNV Non-Cryptographic Hash Algorithm (IETF draft), appendix of test vectors.
    CHECK(number_for("") == 0xcbf29ce484222325ULL);
    CHECK(number_for("a") == 0xaf63dc4c8601ec8cULL);
    CHECK(number_for("foobar") == 0x85944171f73967e8ULL);
}

TEST_CASE("Numbers below seven come equally often: chi square with 6 degrees of freedom stays under its 0.1 per cent line") {
    SeededDraw draw(7);
    std::array<int, 7> counts{};
    constexpr int kDraws = 70000;
    for (int i = 0; i < kDraws; ++i) ++counts[draw.below(7)];
    double chi_square = 0.0;
    for (const int count : counts) chi_square += std::pow(count - kDraws / 7.0, 2) / (kDraws / 7.0);
    CHECK(chi_square < 22.46);  // tables of the chi-square distribution, 6 degrees of freedom, 0.001
}

TEST_CASE("A shuffle puts every value on every place equally often") {
    SeededDraw draw(11);
    std::array<std::array<int, 4>, 4> counts{};
    constexpr int kDraws = 40000;
    for (int i = 0; i < kDraws; ++i) {
        std::vector<std::size_t> row{0, 1, 2, 3};
        draw.shuffle(row);
        for (std::size_t place = 0; place < 4; ++place) ++counts[row[place]][place];
    }
    // Three standard deviations of a binomial with n = 40000, p = 1/4 are 260; twelve of sixteen places may be nearest to it, so four are allowed.
    for (const auto& row : counts)
        for (const int count : row) CHECK(std::abs(count - kDraws / 4) < 347);
}
