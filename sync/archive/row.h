// A record as the row that an archive keeps of it.
#pragma once

#include <cstdint>
#include <string>

#include "storage/ledger/arriving.h"
#include "storage/ledger/digest.h"
#include "sync/archive/connection.h"

namespace ligule::archive {

// The columns of ligule.record, in the order in which add_row() writes them.
inline constexpr const char* kRowColumns =
    "stream,seq,id,kind,format,body,digest_before,digest,counts,utc_ms,offset_min,local_date,"
    "person,trial,plan,subject,measure,occasion,part,run,purpose,state,entered,unit,value,"
    "definition,reason,blind,source";

// One row of a sound body (ledger::check_body), and one of `targets` (record, target) for each
// claim that it replaces. Columns of a later format stay empty: it is carried unread.
void add_row(CopyText& rows, CopyText& targets, const ledger::Arrived& arrived,
             const std::string& body, const Digest& before, const Digest& digest);

// A digest or key as a cell or parameter of type bytea.
[[nodiscard]] std::string bytea(const std::string& hex);

}  // namespace ligule::archive
