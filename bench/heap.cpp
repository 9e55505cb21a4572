// Takes the place of malloc and its kin in this executable and counts what they hand out.
#include "heap.h"

#include <malloc.h>

#include <atomic>
#include <cerrno>

namespace {

std::atomic<std::size_t> in_use{0}, most{0};

void* counted(void* block) {
    if (!block) return block;
    const std::size_t now = in_use.fetch_add(malloc_usable_size(block)) + malloc_usable_size(block);
    std::size_t before = most.load();
    while (now > before && !most.compare_exchange_weak(before, now)) {
    }
    return block;
}

}  // namespace

extern "C" {

// The allocator of glibc under its own names.
void* __libc_malloc(std::size_t);
void* __libc_calloc(std::size_t, std::size_t);
void* __libc_realloc(void*, std::size_t);
void* __libc_memalign(std::size_t, std::size_t);
void __libc_free(void*);

void* malloc(std::size_t size) {
    return counted(__libc_malloc(size));
}
void* calloc(std::size_t count, std::size_t size) {
    return counted(__libc_calloc(count, size));
}
void* realloc(void* block, std::size_t size) {
    const std::size_t before = block ? malloc_usable_size(block) : 0;
    void* grown = __libc_realloc(block, size);
    if (grown || size == 0) in_use.fetch_sub(before);
    return counted(grown);
}
void free(void* block) {
    if (!block) return;
    in_use.fetch_sub(malloc_usable_size(block));
    __libc_free(block);
}
void* memalign(std::size_t alignment, std::size_t size) {
    return counted(__libc_memalign(alignment, size));
}
void* aligned_alloc(std::size_t alignment, std::size_t size) {
    return counted(__libc_memalign(alignment, size));
}
int posix_memalign(void** block, std::size_t alignment, std::size_t size) {
    *block = counted(__libc_memalign(alignment, size));
    return *block ? 0 : ENOMEM;
}
}

namespace warmside::bench_support {

std::size_t heap_now() {
    return in_use;
}
std::size_t heap_peak() {
    return most;
}
void restart_peak() {
    most = in_use.load();
}

}  // namespace warmside::bench_support
