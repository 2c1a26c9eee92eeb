//! Completions and the man page, from the definition of the command line; and the schemas of files.

use std::io;

use clap::CommandFactory;
use clap_complete::Shell;
use legwork_file::schema;

use crate::args::{Args, Generate, Generated};
use crate::{Failure, Outcome, output};

/// Writes one of them to standard output.
pub(crate) fn run(options: &Generate) -> Result<Outcome, Failure> {
    let mut command = Args::command();
    command.build();
    let mut out = Vec::new();
    let mut completions = |shell| clap_complete::generate(shell, &mut command, "legwork", &mut out);
    match options.what {
        Generated::Bash => completions(Shell::Bash),
        Generated::Zsh => completions(Shell::Zsh),
        Generated::Fish => completions(Shell::Fish),
        Generated::Powershell => completions(Shell::PowerShell),
        Generated::Man => man(&command, &mut out)?,
        Generated::PremisesSchema => out.extend_from_slice(schema::PREMISES.as_bytes()),
        Generated::NeedSchema => out.extend_from_slice(schema::NEED.as_bytes()),
        Generated::ReportSchema => out.extend_from_slice(schema::REPORT.as_bytes()),
    }
    output::print(&out)?;
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
