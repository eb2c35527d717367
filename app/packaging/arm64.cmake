# Toolchain for 64-bit ARM: cmake -DCMAKE_TOOLCHAIN_FILE=app/packaging/arm64.cmake; `tests/run.sh arm64` does all of it.
# Debian's cross compiler, the libraries that arm64-sysroot.sh laid below build-arm64, and qemu for what is to be run.
set(CMAKE_SYSTEM_NAME Linux)
set(CMAKE_SYSTEM_PROCESSOR aarch64)
set(CMAKE_CXX_COMPILER aarch64-linux-gnu-g++)
# g++ tells each place where g++ 9 called otherwise; nothing made by that is linked to ours.
set(CMAKE_CXX_FLAGS_INIT -Wno-psabi)

get_filename_component(LIGULE_SYSROOT ${CMAKE_CURRENT_LIST_DIR}/../../build-arm64/sysroot ABSOLUTE)
set(CMAKE_SYSROOT ${LIGULE_SYSROOT})
set(CMAKE_CROSSCOMPILING_EMULATOR qemu-aarch64 -L ${LIGULE_SYSROOT})

# Programs are this machine's, all else is ARM's: nothing of /usr may slip in.
set(CMAKE_FIND_ROOT_PATH_MODE_PROGRAM NEVER)
set(CMAKE_FIND_ROOT_PATH_MODE_LIBRARY ONLY)
set(CMAKE_FIND_ROOT_PATH_MODE_INCLUDE ONLY)
set(CMAKE_FIND_ROOT_PATH_MODE_PACKAGE ONLY)
set(ENV{PKG_CONFIG_SYSROOT_DIR} ${LIGULE_SYSROOT})
set(ENV{PKG_CONFIG_LIBDIR} ${LIGULE_SYSROOT}/usr/lib/aarch64-linux-gnu/pkgconfig:${LIGULE_SYSROOT}/usr/share/pkgconfig)
