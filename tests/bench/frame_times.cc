// Laid before a program (LD_PRELOAD): notes in the file LIGULE_FRAME_TIMES names when each frame
// was handed to the glass, a line a frame, in nanoseconds of the machine's steady clock. The
// program is the real one, and knows nothing of it.
#include <SDL.h>
#include <dlfcn.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>

extern "C" void SDL_RenderPresent(SDL_Renderer* renderer) {
  using Present = void (*)(SDL_Renderer*);
  static const auto present = reinterpret_cast<Present>(::dlsym(RTLD_NEXT, "SDL_RenderPresent"));
  present(renderer);
  const char* const name = std::getenv("LIGULE_FRAME_TIMES");  // NOLINT(concurrency-mt-unsafe)
  if (name == nullptr) return;
  if (std::FILE* const file = std::fopen(name, "a")) {
    std::fprintf(file, "%lld\n",
                 static_cast<long long>(std::chrono::duration_cast<std::chrono::nanoseconds>(
                                            std::chrono::steady_clock::now().time_since_epoch())
                                            .count()));
    std::fclose(file);
  }
}
