// Signatures in the form of a minisign file with a hashed message (FORMAT.md 3).
#pragma once

#include <string>
#include <string_view>

#include "sync/seal/keys.h"

namespace ligule::seal {

// The whole signature file, four lines, for a message. The trusted comment is signed too; it must
// be one line.
[[nodiscard]] std::string signature_text(const SecretKey& key, std::string_view message,
                                         std::string_view trusted_comment);

// Checks a signature file against message and key and gives its trusted comment. kDamaged when it
// is not exactly of the form signature_text() writes, names another key, or does not hold; where is
// put into the error.
[[nodiscard]] Result<std::string> check_signature(std::string_view text, std::string_view message,
                                                  const PublicKey& key, const std::string& where);

// Ed25519 verification of RFC 8032 over the message as it is.
[[nodiscard]] bool signature_holds(const SignatureBytes& signature, std::string_view message,
                                   const PublicKey& key);

}  // namespace ligule::seal
