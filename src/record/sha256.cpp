#include "record/sha256.h"

#include <fmt/core.h>
#if defined(__x86_64__)
#include <cpuid.h>
#include <immintrin.h>
#endif

#include <array>
#include <bit>
#include <cstdint>

namespace leat::record {
namespace {

using Word = std::uint32_t;

// First 32 bits of the fractional parts of the cube roots of the first 64 primes (FIPS 180-4, 4.2.2).
constexpr std::array<Word, 64> kRound = {
    0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
    0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
    0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
    0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
    0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
    0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
    0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
    0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2};

using State = std::array<Word, 8>;

std::array<Word, 64> schedule_of(const char* block) {
  std::array<Word, 64> w{};
  for (std::size_t i = 0; i < 16; ++i)
    for (std::size_t b = 0; b < 4; ++b) w[i] = (w[i] << 8) | static_cast<unsigned char>(block[4 * i + b]);
  for (std::size_t i = 16; i < 64; ++i) {
    const Word s0 = std::rotr(w[i - 15], 7) ^ std::rotr(w[i - 15], 18) ^ (w[i - 15] >> 3);
    const Word s1 = std::rotr(w[i - 2], 17) ^ std::rotr(w[i - 2], 19) ^ (w[i - 2] >> 10);
    w[i] = w[i - 16] + s0 + w[i - 7] + s1;
  }
  return w;
}

void take_block_plain(State& state, const char* block) {
  const auto w = schedule_of(block);
  State s = state;
  auto& [a, b, c, d, e, f, g, h] = s;
  for (std::size_t i = 0; i < 64; ++i) {
    const Word s1 = std::rotr(e, 6) ^ std::rotr(e, 11) ^ std::rotr(e, 25);
    const Word t1 = h + s1 + ((e & f) ^ (~e & g)) + kRound[i] + w[i];
    const Word s0 = std::rotr(a, 2) ^ std::rotr(a, 13) ^ std::rotr(a, 22);
    const Word t2 = s0 + ((a & b) ^ (a & c) ^ (b & c));
    h = g, g = f, f = e, e = d + t1, d = c, c = b, b = a, a = t1 + t2;
  }
  for (std::size_t i = 0; i < 8; ++i) state[i] += s[i];
}

using TakeBlock = void (*)(State&, const char*);

#if defined(__x86_64__)
/// By the machine's own instructions for it, some eight times as fast: four rounds at a time, the state held as the
/// words a b e f and c d g h (the order that sha256rnds2 wants, the last word of each lowest).
__attribute__((target("sha,sse4.1"))) void take_block_quick(State& s, const char* block) {
  const __m128i turn = _mm_set_epi64x(0x0c0d0e0f08090a0b, 0x0405060700010203);
  __m128i w[4];
  for (int i = 0; i < 4; ++i)
    w[i] = _mm_shuffle_epi8(_mm_loadu_si128(reinterpret_cast<const __m128i*>(block) + i), turn);
  const auto four = [](Word d, Word c, Word b, Word a) {
    return _mm_set_epi32(static_cast<int>(d), static_cast<int>(c), static_cast<int>(b), static_cast<int>(a));
  };
  __m128i abef = four(s[0], s[1], s[4], s[5]), cdgh = four(s[2], s[3], s[6], s[7]);
  for (std::size_t g = 0; g < 16; ++g) {
    __m128i& oldest = w[g % 4];
    const __m128i last = w[(g + 3) % 4];
    const __m128i sum = _mm_add_epi32(oldest, _mm_loadu_si128(reinterpret_cast<const __m128i*>(&kRound[4 * g])));
    cdgh = _mm_sha256rnds2_epu32(cdgh, abef, sum);
    abef = _mm_sha256rnds2_epu32(abef, cdgh, _mm_shuffle_epi32(sum, 0x0E));
    const __m128i part =
        _mm_add_epi32(_mm_sha256msg1_epu32(oldest, w[(g + 1) % 4]), _mm_alignr_epi8(last, w[(g + 2) % 4], 4));
    oldest = _mm_sha256msg2_epu32(part, last);
  }
  alignas(16) std::array<Word, 4> high{}, low{};
  _mm_store_si128(reinterpret_cast<__m128i*>(high.data()), abef);
  _mm_store_si128(reinterpret_cast<__m128i*>(low.data()), cdgh);
  const State gained = {high[3], high[2], low[3], low[2], high[1], high[0], low[1], low[0]};
  for (std::size_t i = 0; i < 8; ++i) s[i] += gained[i];
}

TakeBlock best() {
  unsigned a = 0, b = 0, c = 0, d = 0;
  const bool known = __get_cpuid_count(7, 0, &a, &b, &c, &d) != 0;
  return known && (b & bit_SHA) != 0 && __builtin_cpu_supports("sse4.1") ? &take_block_quick : &take_block_plain;
}
#else
TakeBlock best() {
  return &take_block_plain;
}
#endif

std::string digest_of(std::string_view bytes, TakeBlock take_block) {
  State state = {0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19};
  const std::uint64_t bits = 8 * static_cast<std::uint64_t>(bytes.size());
  while (bytes.size() >= 64) {
    take_block(state, bytes.data());
    bytes.remove_prefix(64);
  }
  std::string rest(bytes);
  rest += '\x80';
  while (rest.size() % 64 != 56) rest += '\0';
  for (int shift = 56; shift >= 0; shift -= 8) rest += static_cast<char>((bits >> shift) & 0xFF);
  for (std::string_view left = rest; !left.empty(); left.remove_prefix(64)) take_block(state, left.data());
  std::string text;
  for (const Word word : state) text += fmt::format("{:08x}", word);
  return text;
}

}  // namespace

std::string sha256(std::string_view bytes) {
  static const TakeBlock take_block = best();
  return digest_of(bytes, take_block);
}

std::string sha256_plain(std::string_view bytes) {
  return digest_of(bytes, &take_block_plain);
}

}  // namespace leat::record
