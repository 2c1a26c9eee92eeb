// What capacities cost in RAM, worked out by the compiler: included by the test beside this folder, which
// holds the table of the chapter "In firmware" against it on the host, and by a program that does so on a board.

/// Hands out each row's name and its bytes.
fn rows(mut row: impl FnMut(&str, usize)) {
    use legwork::{Locator, Premises, Workspace};

    row("a part", size_of::<Premises<64, 64, 16, 8>>() - size_of::<Premises<63, 64, 16, 8>>());
    row("a port", (size_of::<Premises<8, 68, 16, 8>>() - size_of::<Premises<8, 64, 16, 8>>()) / 4);
    row("an outlet", (size_of::<Premises<8, 64, 20, 8>>() - size_of::<Premises<8, 64, 16, 8>>()) / 4);
    row("a supply", (size_of::<Premises<8, 64, 16, 12>>() - size_of::<Premises<8, 64, 16, 8>>()) / 4);
    row("a port to check", (size_of::<Workspace<68, 8, 8, 8, 8>>() - size_of::<Workspace<64, 8, 8, 8, 8>>()) / 4);
    row("a table", (size_of::<Workspace<64, 12, 8, 8, 8>>() - size_of::<Workspace<64, 8, 8, 8, 8>>()) / 4);
    row("a figure", (size_of::<Workspace<64, 8, 12, 8, 8>>() - size_of::<Workspace<64, 8, 8, 8, 8>>()) / 4);
    row("an amplifier", (size_of::<Workspace<64, 8, 8, 12, 8>>() - size_of::<Workspace<64, 8, 8, 8, 8>>()) / 4);
    row("a finding", (size_of::<Workspace<64, 8, 8, 8, 12>>() - size_of::<Workspace<64, 8, 8, 8, 8>>()) / 4);
    row("a part to suspect", (size_of::<Locator<68, 64>>() - size_of::<Locator<64, 64>>()) / 4);
    row("a reading", (size_of::<Locator<64, 68>>() - size_of::<Locator<64, 64>>()) / 4);
    row("`Premises<8, 16, 4, 1>`", size_of::<Premises<8, 16, 4, 1>>());
    row("`Workspace<16, 8, 40, 1, 16>`", size_of::<Workspace<16, 8, 40, 1, 16>>());
    row("`Premises<23, 32, 8, 1>`", size_of::<Premises<23, 32, 8, 1>>());
    row("`Workspace<32, 12, 96, 1, 16>`", size_of::<Workspace<32, 12, 96, 1, 16>>());
    row("`Locator<23, 32>`", size_of::<Locator<23, 32>>());
    row("`Premises<64, 128, 24, 2>`", size_of::<Premises<64, 128, 24, 2>>());
    row("`Workspace<128, 24, 320, 4, 64>`", size_of::<Workspace<128, 24, 320, 4, 64>>());
}
