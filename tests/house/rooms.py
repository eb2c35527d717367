"""The rooms of the tree: what each may include, as tables. house.py walks the tree by them.

To let a file use a library, add it here with the reason in the commit; that is the whole procedure.
"""

# Room -> rooms it may include. A room may always include itself. Nothing here may form a circle.
ROOMS = {
    "storage/trial": [],
    "storage/checks": ["storage/trial"],
    "storage/design": ["storage/trial"],
    "storage/files": ["storage/trial"],
    "storage/ledger": ["storage/trial", "storage/checks", "storage/files"],
    "sync/statistics": [],
    "sync/wide": ["storage/trial", "storage/files", "storage/ledger", "sync/results"],
    "sync/seal": ["storage/trial", "storage/files", "storage/ledger", "sync/wide"],
    "sync/gather": ["storage/trial", "storage/checks", "storage/files", "storage/ledger", "sync/seal"],
    "sync/results": ["storage/trial", "storage/checks", "storage/files", "storage/ledger", "sync/statistics"],
    "sync/print": ["storage/trial", "storage/files", "storage/design", "sync/results"],
    "sync/archive": ["storage/trial", "storage/files", "storage/ledger", "sync/seal", "sync/results"],
    "sync/desk": ["storage/trial", "storage/checks", "storage/design", "storage/files", "storage/ledger",
                  "sync/seal", "sync/gather", "sync/results", "sync/print", "sync/archive"],
    "app/scale": ["storage/trial"],
    "app/flow": ["storage/trial", "storage/checks"],
    "app/platform": ["storage/trial"],
    "app/touch": ["storage/trial", "app/platform"],
    "app/screens": ["storage/trial", "app/flow", "app/platform", "app/touch"],
    "app/work": ["storage/trial", "storage/checks", "storage/files", "storage/ledger",
                 "sync/seal", "sync/gather", "sync/results", "app/flow", "app/scale"],
    "app/program": ["storage/trial", "storage/checks", "storage/files", "storage/ledger",
                    "sync/seal", "sync/gather", "sync/results",
                    "app/scale", "app/flow", "app/platform", "app/touch", "app/screens", "app/work"],
    # Makes past seasons of the demonstration as a tablet would have.
    "demo-plots": ["storage/trial", "storage/files", "storage/ledger", "sync/seal", "sync/gather"],
}

# Folders of a floor that hold no sources of their own.
PLAIN_FOLDERS = {"app/packaging"}

# Rooms that compute only: no file, process, thread or terminal header.
PURE_ROOMS = {"storage/trial", "storage/checks", "storage/design", "sync/statistics", "app/flow"}
IMPURE_HEADERS = {"fstream", "filesystem", "iostream", "cstdio", "stdio.h", "thread", "mutex", "shared_mutex",
                  "condition_variable", "future", "random_device", "csignal"}

# Start of a third-party header -> who may include it, a room or a single file. Heavy headers name files, and those
# files are sources: a header that drags one in makes every file that includes it slow to build.
POSIX_ROOMS = ["storage/files", "storage/ledger", "sync/desk", "app/platform", "app/scale", "app/work",
               "app/program"]
LIBRARIES = {
    "date/tz.h": ["storage/files"],
    "date/": ["storage/trial", "storage/checks", "storage/design", "storage/files", "storage/ledger", "sync/seal",
              "sync/gather", "sync/results", "sync/print", "sync/archive", "sync/desk", "app/flow", "app/platform",
              "app/work", "app/program", "demo-plots"],
    "fmt/": ["storage/trial", "storage/checks", "storage/files", "storage/ledger", "sync/seal", "sync/gather",
             "sync/results", "sync/print", "sync/desk", "app/flow", "app/touch", "app/screens", "app/work",
             "app/scale", "app/program", "demo-plots"],
    "sqlite3.h": ["storage/ledger"],
    "SQLiteCpp/": ["storage/ledger"],
    "nettle/": ["storage/ledger"],
    "sodium": ["sync/seal"],
    "zip.h": ["sync/seal"],
    "csv.h": ["storage/files"],
    "boost/uuid/": ["storage/trial/identity.cc"],
    "boost/math/": ["sync/statistics/distributions.cc"],
    "boost/asio": ["app/scale"],
    "Eigen/": ["sync/statistics/crossed_fit.cc", "sync/statistics/fit.cc", "sync/statistics/rater_effects.cc",
               "sync/statistics/several_tests.cc", "sync/statistics/stability.cc"],
    "nlohmann/": ["storage/trial/canonical_text.cc", "storage/trial/details.cc", "storage/files/definitions.cc", "storage/files/json_fault.cc",
                  "storage/files/table_schema.cc", "storage/files/preference_file.cc", "storage/files/words.cc",
                  "storage/files/columns.cc", "storage/files/soil_tables.cc", "storage/files/sowing.cc", "sync/seal/descriptor.cc", "app/program/list.cc",
                  "app/scale/parse_line_forms.cc"],
    "CLI/": ["sync/desk/desk.cc", "app/program/arguments.cc"],
    "libpq-fe.h": ["sync/archive"],
    "dlfcn.h": ["sync/archive/libpq.cc"],
    "malloc.h": ["sync/desk/main.cc"],
    "imgui": ["app/platform", "app/touch", "app/screens"],
    "SDL": ["app/platform"],
    "png.h": ["app/platform"],
    "qrencode.h": ["app/work/dot_code.cc", "sync/print/square_code.cc"],
    "unistd.h": POSIX_ROOMS,
    "fcntl.h": POSIX_ROOMS,
    "dirent.h": POSIX_ROOMS,
    "termios.h": ["app/scale"],
    "sys/": POSIX_ROOMS,
}
# What every test may use besides the libraries of the room it tests. Tests look at files and processes from outside.
TEST_LIBRARIES = ("gtest/", "dlfcn.h", "pthread.h", "pty.h", "gmock/", "benchmark/", "signal.h", "unistd.h", "fcntl.h", "dirent.h", "sys/", "nlohmann/")

# The top of the tree. Dotted names and build folders besides these are nobody's business but git's.
TOP = {"CMakeLists.txt", "README.md", "DEVELOPERS.md", "storage", "sync", "app", "tests", "assets", "demo-plots"}
TOP_DOTTED = {".ci", ".clang-format", ".clang-tidy", ".gitignore"}
# Folders of tests besides those that mirror the rooms.
TEST_FOLDERS = {"storage", "sync", "app", "published", "house", "faults", "fuzz", "packages", "bench", "demo-plots"}

MAX_LINES = 500
# File -> why it is longer than MAX_LINES.
LONG_FILES = {}
