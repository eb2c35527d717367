#include "sync/seal/signature.h"

#include <sodium.h>

#include <algorithm>
#include <vector>

#include "sync/seal/encoding.h"

namespace ligule::seal {
namespace {

constexpr std::string_view kUntrusted = "untrusted comment: signature of a ligule season file";
constexpr std::string_view kTrusted = "trusted comment: ";
constexpr std::string_view kAlgorithm = "ED";  // Ed25519 over BLAKE2b-512 of the message

std::unexpected<Error> no_signature(const std::string& what, const std::string& where) {
  return fail(ErrorKind::kDamaged, what, where, "take the file from the tablet again");
}

std::vector<std::string_view> lines_of(std::string_view text) {
  std::vector<std::string_view> lines;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    lines.push_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

}  // namespace

std::string signature_text(const SecretKey& key, std::string_view message,
                           std::string_view trusted_comment) {
  const SignatureBytes signature = key.sign(text_of(blake2b_512(message)));
  const SignatureBytes overall = key.sign(text_of(signature) + std::string(trusted_comment));
  const std::string line =
      std::string(kAlgorithm) + text_of(key_id(key.public_key())) + text_of(signature);
  return std::string(kUntrusted) + "\n" + base64(bytes_of(line)) + "\n" + std::string(kTrusted) +
         std::string(trusted_comment) + "\n" + base64(overall) + "\n";
}

bool signature_holds(const SignatureBytes& signature, std::string_view message,
                     const PublicKey& key) {
  const Bytes in = bytes_of(message);
  return crypto_sign_verify_detached(signature.data(), in.data(), in.size(), key.data()) == 0;
}

Result<std::string> check_signature(std::string_view text, std::string_view message,
                                    const PublicKey& key, const std::string& where) {
  const auto lines = lines_of(text);
  if (lines.size() != 4 || !text.ends_with('\n') || lines[0] != kUntrusted ||
      !lines[2].starts_with(kTrusted)) {
    return no_signature("the signature file is not in its form of four lines", where);
  }
  const auto named = from_base64(lines[1]);
  const auto overall = from_base64(lines[3]);
  if (!named || named->size() != 2 + 8 + 64 || !overall || overall->size() != 64) {
    return no_signature("the signature file holds no signature", where);
  }
  if (!named->starts_with(kAlgorithm)) {
    return no_signature("the signature is not of the hashed kind (ED)", where);
  }
  if (named->substr(2, 8) != text_of(key_id(key))) {
    return no_signature("the signature names another key than the stream's", where);
  }
  SignatureBytes signature{};
  std::copy_n(named->begin() + 10, signature.size(), signature.begin());
  if (!signature_holds(signature, text_of(blake2b_512(message)), key)) {
    return no_signature("the signature does not hold for the tag manifest", where);
  }
  std::string comment(lines[2].substr(kTrusted.size()));
  SignatureBytes over_comment{};
  std::copy_n(overall->begin(), over_comment.size(), over_comment.begin());
  if (!signature_holds(over_comment, text_of(signature) + comment, key)) {
    return no_signature("the signature does not hold for its trusted comment", where);
  }
  return comment;
}

}  // namespace ligule::seal
