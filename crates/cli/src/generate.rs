//! Completions and the man page, from the definition of the command line.

use std::io::{self, Write};

use clap::CommandFactory;
use clap_complete::Shell;

use crate::args::{Args, Generate, Generated};
use crate::{Failure, Outcome};

/// Writes one of them to standard output.
pub(crate) fn run(options: &Generate) -> Result<Outcome, Failure> {
    let mut command = Args::command();
    command.build();
    let mut out = Vec::new();
    let shell = match options.what {
        Generated::Bash => Some(Shell::Bash),
        Generated::Zsh => Some(Shell::Zsh),
        Generated::Fish => Some(Shell::Fish),
        Generated::Powershell => Some(Shell::PowerShell),
        Generated::Man => None,
    };
    match shell {
        Some(shell) => clap_complete::generate(shell, &mut command, "legwork", &mut out),
        None => man(&command, &mut out)?,
    }
    io::stdout().write_all(&out)?;
    Ok(Outcome::Done)
}

/// One page for the program, with a part for each command.
fn man(command: &clap::Command, out: &mut Vec<u8>) -> io::Result<()> {
    clap_mangen::Man::new(command.clone()).render(out)?;
    for sub in command.get_subcommands().filter(|sub| !sub.is_hide_set() && sub.get_name() != "help") {
        let man = clap_mangen::Man::new(sub.clone());
        man.render_name_section(out)?;
        man.render_synopsis_section(out)?;
        man.render_options_section(out)?;
        man.render_extra_section(out)?;
    }
    Ok(())
}
