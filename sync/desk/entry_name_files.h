// --aliases and --varieties of commands that make tables, and what these say about names.
#pragma once

#include <expected>
#include <vector>

#include "sync/desk/command.h"
#include "sync/results/entry_names.h"

namespace ligule::desk {

[[nodiscard]] std::vector<Option> entry_name_options();

// Both files, where they are given. What is wrong with them is told; the error is what to end with.
[[nodiscard]] std::expected<results::EntryNames, Exit> entry_names_given(const Arguments& arguments,
                                                                         Console& console);

// What came of names in a run, to standard output: what counts under which name, what is withheld,
// what to look at.
void tell_names(const results::EntryNames& names, Console& console);

}  // namespace ligule::desk
