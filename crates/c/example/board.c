// From reset to main on a Cortex-M4F, with newlib's console over semihosting. board.ld lays the memory out.

#include <stdint.h>
#include <stdlib.h>

extern uint32_t _stack_top, _data_load, _data_start, _data_end, _bss_start, _bss_end;
extern int main(void);
extern void initialise_monitor_handles(void); // newlib's: opens the console
void _start(void);

void _start(void) {
    *(volatile uint32_t *)0xE000ED88u |= 0xFu << 20; // full access to the FPU, before anything touches it
    __asm__ volatile("dsb\n\tisb" ::: "memory");
    for (uint32_t *to = &_data_start, *from = &_data_load; to < &_data_end;)
        *to++ = *from++;
    for (uint32_t *to = &_bss_start; to < &_bss_end;)
        *to++ = 0;
    initialise_monitor_handles();
    exit(main());
}

// A fault ends the emulator with an error.
static void fault(void) { _Exit(102); }

__attribute__((section(".vectors"), used)) static void (*const vectors[16])(void) = {
    (void (*)(void))(uintptr_t)&_stack_top, _start, fault, fault, fault, fault, fault, fault,
    fault, fault, fault, fault, fault, fault, fault, fault,
};
