#include "sync/results/alike_entries.h"

#include <algorithm>
#include <iterator>
#include <map>
#include <utility>

#include "storage/files/alike_names.h"
#include "sync/results/entry_label.h"

namespace ligule::results {
namespace {

struct Named {
  const NamedEntry* entry = nullptr;  // never null
  EntryLabel parts;
};

class AlikeSearch {
 public:
  AlikeSearch(std::span<const NamedEntry> entries, const std::vector<Alias>& aliases) {
    for (const NamedEntry& entry : entries) {
      Named named{&entry, split_label(entry.label)};
      varieties_[named.parts.variety].push_back(std::move(named));
    }
    for (const Alias& alias : aliases) target_[alias.name] = alias.same_as;
  }

  std::vector<AlikeNames> run() {
    for (const auto& [variety, named] : varieties_) compare_strains(named);
    std::vector<std::string> names;
    names.reserve(varieties_.size());
    for (const auto& [variety, named] : varieties_) names.push_back(variety);
    for (const files::AlikePair& pair : files::alike_pairs(names)) {
      compare(varieties_[names[pair.first]], varieties_[names[pair.second]],
              pair.how == files::Alike::kLetterApart);
    }
    return {found_.begin(), found_.end()};
  }

 private:
  struct ByLabel {
    bool operator()(const AlikeNames& a, const AlikeNames& b) const {
      return std::pair(a.first, a.second) < std::pair(b.first, b.second);
    }
  };

  [[nodiscard]] const std::string& counts_under(const std::string& label) const {
    const auto found = target_.find(label);
    return found == target_.end() ? label : found->second;
  }

  // Whether somebody knows already that the two are one, or that they can't be.
  [[nodiscard]] bool decided(const NamedEntry& a, const NamedEntry& b) const {
    if (counts_under(a.label) == counts_under(b.label)) return true;
    return !a.species.empty() && !b.species.empty() &&
           std::ranges::none_of(a.species,
                                [&](const std::string& one) { return b.species.contains(one); });
  }

  void add(const NamedEntry& a, const NamedEntry& b, bool letter_apart) {
    if (decided(a, b)) return;
    const auto& [first, second] = std::minmax(a.label, b.label);
    found_.insert({first, second, letter_apart});
  }

  void compare_strains(const std::vector<Named>& of_variety) {
    for (auto a = of_variety.begin(); a != of_variety.end(); ++a) {
      for (auto b = std::next(a); b != of_variety.end(); ++b) {
        if (a->parts.endophyte != b->parts.endophyte) continue;
        const files::Alike how = files::alike(a->parts.strain, b->parts.strain);
        if (how == files::Alike::kNo) continue;
        add(*a->entry, *b->entry, how == files::Alike::kLetterApart);
      }
    }
  }

  void compare(const std::vector<Named>& one, const std::vector<Named>& other, bool letter_apart) {
    bool agree = false;
    for (const Named& a : one) {
      for (const Named& b : other) {
        if (!same_endophyte(a.parts, b.parts)) continue;
        agree = true;
        add(*a.entry, *b.entry, letter_apart);
      }
    }
    if (!agree) add(*one.front().entry, *other.front().entry, letter_apart);
  }

  std::map<std::string, std::vector<Named>> varieties_;
  std::map<std::string, std::string> target_;
  std::set<AlikeNames, ByLabel> found_;
};

}  // namespace

std::vector<AlikeNames> alike_names(std::span<const NamedEntry> entries,
                                    const std::vector<Alias>& aliases) {
  return AlikeSearch(entries, aliases).run();
}

}  // namespace ligule::results
