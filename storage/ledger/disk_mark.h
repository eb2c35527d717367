// Which disk a file lies on. Private to storage/ledger.
//
// A whole disk's image put on a second tablet brings a ledger along with its number, birth and
// everything else that tells a copy: only the disk itself is another one.
#pragma once

#include <cstdint>
#include <string>

namespace ligule::ledger {

// What the disk says of itself by which no other is mistaken for it, as "where:what" (a card's id,
// a serial number), of the device with these numbers; of a layer over a disk, what the disk below
// says. Empty: it says nothing, or the file lies on no single disk. `system` is the kernel's tree
// of devices, /sys.
[[nodiscard]] std::string disk_mark(const std::string& system, std::uint32_t major,
                                    std::uint32_t minor);
// Of the disk that the file lies on; empty too where the file is not there.
[[nodiscard]] std::string disk_mark_of(const std::string& path);

// Whether the file may lie where it was written last. Empty marks, and marks from different places,
// tell nothing.
[[nodiscard]] bool may_be_same_disk(const std::string& before, const std::string& now);

}  // namespace ligule::ledger
