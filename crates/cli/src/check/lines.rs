//! `legwork check --lines`: a premises a line in, a report a line out, in the same order.
//!
//! One thread reads batches of lines, as many as there are cores check them, one writes. Between
//! them stand short queues, so memory does not grow with the number of lines.

use std::io::{self, BufRead, Write};
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::sync::{Arc, Mutex};
use std::thread;

use legwork::Verdict;
use legwork_file::{Checker, LARGEST, Refusal, Source, Syntax, write_json};

use super::outcome;
use crate::{Failure, Outcome};

/// How much text makes a batch: large enough that handing it over costs nothing.
const BATCH: usize = 64 << 10;
/// A check works on the heap; what is left needs little, but a debug build needs more.
const STACK: usize = 16 << 20;

/// Some lines of the input.
#[derive(Default)]
struct Batch {
    text: Vec<u8>,
    /// Where each line ends in `text`; an over-long one is cut and says so.
    ends: Vec<(usize, bool)>,
    first_line: u64,
}

/// What came of a batch.
struct Answer {
    out: Vec<u8>,
    worst: Verdict,
    unusable: bool,
}

/// A batch on its way, with where its answer is to go.
type Job = (Batch, SyncSender<Answer>);

/// Checks every line of standard input.
pub(super) fn run(service: Option<Source<'_>>, strict: bool) -> Result<Outcome, Failure> {
    let workers = thread::available_parallelism().map_or(1, std::num::NonZero::get);
    // The writer takes answers in the order in which batches were read, whoever finishes first.
    let (orders, in_order) = sync_channel::<Receiver<Answer>>(2 * workers);
    let (jobs, taken) = sync_channel::<Job>(workers);
    let taken = Arc::new(Mutex::new(taken));
    thread::scope(|scope| {
        for _ in 0..workers {
            let taken = Arc::clone(&taken);
            let worker = thread::Builder::new().stack_size(STACK);
            worker.spawn_scoped(scope, move || work(&taken, service))?;
        }
        drop(taken);
        let reader = thread::Builder::new();
        let reader = reader.spawn_scoped(scope, move || read(&jobs, &orders))?;
        let written = write(&in_order);
        // A closed output closes the queues, which stops the reader at its next batch.
        drop(in_order);
        let read = reader.join().unwrap_or_else(|_| Err(io::Error::other("the reader stopped")));
        let (worst, unusable) = written?;
        read.map_err(|error| Failure::Unusable(format!("standard input: {error}")))?;
        Ok(if unusable { Outcome::PartlyUnusable } else { outcome(worst, strict) })
    })
}

fn read(jobs: &SyncSender<Job>, orders: &SyncSender<Receiver<Answer>>) -> io::Result<()> {
    let mut input = io::BufReader::with_capacity(BATCH, io::stdin().lock());
    let mut line = 1;
    loop {
        let mut batch = Batch { first_line: line, ..Batch::default() };
        let mut more = true;
        // What has come is on its way before more is waited for: whoever wrote a line may want its answer before the
        // next, and an input that breaks off takes no whole line with it.
        let come = |input: &io::BufReader<_>| memchr::memchr(b'\n', input.buffer()).is_some();
        while more && (batch.ends.is_empty() || batch.text.len() < BATCH && come(&input)) {
            more = take_line(&mut input, &mut batch)?;
        }
        line += batch.ends.len() as u64;
        if !batch.ends.is_empty() {
            let (answer, answered) = sync_channel(1);
            // A queue without its other end means that nobody wants more.
            if orders.send(answered).is_err() || jobs.send((batch, answer)).is_err() {
                return Ok(());
            }
        }
        if !more {
            return Ok(());
        }
    }
}

/// Adds the next line to a batch, cut where no premises could be longer; false at the end.
fn take_line(input: &mut impl BufRead, batch: &mut Batch) -> io::Result<bool> {
    let start = batch.text.len();
    let mut cut = false;
    let mut any = false;
    loop {
        let available = match input.fill_buf() {
            Ok(available) => available,
            Err(error) if error.kind() == io::ErrorKind::Interrupted => continue,
            Err(error) => return Err(error),
        };
        if available.is_empty() {
            if any {
                batch.ends.push((batch.text.len(), cut));
            }
            return Ok(false);
        }
        any = true;
        let newline = memchr::memchr(b'\n', available);
        let piece = available.get(..newline.unwrap_or(available.len())).unwrap_or_default();
        let room = LARGEST.saturating_sub(batch.text.len() - start);
        cut |= piece.len() > room;
        batch.text.extend_from_slice(piece.get(..piece.len().min(room)).unwrap_or_default());
        let used = newline.map_or(available.len(), |newline| newline + 1);
        input.consume(used);
        if newline.is_some() {
            batch.ends.push((batch.text.len(), cut));
            return Ok(true);
        }
    }
}

fn work(jobs: &Mutex<Receiver<Job>>, service: Option<Source<'_>>) {
    let mut checker = Checker::new();
    loop {
        let job = match jobs.lock() {
            Ok(jobs) => jobs.recv(),
            Err(_) => return,
        };
        let Ok((batch, answer)) = job else { return };
        // The writer may have gone; then so do we, at the next batch.
        let _ = answer.send(check(&mut checker, &batch, service));
    }
}

fn check(checker: &mut Checker, batch: &Batch, service: Option<Source<'_>>) -> Answer {
    let mut answer =
        Answer { out: Vec::with_capacity(2 * batch.text.len() + 1024), worst: Verdict::Pass, unusable: false };
    let mut start = 0;
    for (number, (end, cut)) in (batch.first_line..).zip(&batch.ends) {
        let line = batch.text.get(start..*end).unwrap_or_default();
        start = *end;
        let line = line.strip_suffix(b"\r").unwrap_or(line);
        let checked = Source::new("-", if *cut { &[] } else { line }).and_then(|source| {
            let source = Source { syntax: Syntax::Json, ..source };
            let checked = checker.check(&source, service.as_ref())?;
            write_json(&mut answer.out, &checked.home, &checked.report, None);
            Ok(checked.report.verdict())
        });
        match checked {
            Ok(verdict) => answer.worst = answer.worst.max(verdict),
            Err(refusal) => {
                answer.unusable = true;
                let says = cut.then(|| format!("a line has at most {LARGEST} bytes"));
                answer.out.extend_from_slice(error(number, &refusal, says).as_bytes());
            }
        }
        answer.out.push(b'\n');
    }
    answer
}

/// What stands in place of a report: the first thing that is wrong.
fn error(line: u64, refusal: &Refusal, says: Option<String>) -> String {
    let problem = refusal.problems().first().map(|placed| &placed.problem);
    let (field, value) = problem.map(|problem| (problem.path.to_string(), problem.value.clone())).unwrap_or_default();
    let says = says.or_else(|| problem.map(|problem| problem.says.clone())).unwrap_or_default();
    serde_json::json!({ "line": line, "error": { "field": field, "value": value, "says": says } }).to_string()
}

fn write(answers: &Receiver<Receiver<Answer>>) -> Result<(Verdict, bool), Failure> {
    let mut out = io::stdout().lock();
    let (mut worst, mut unusable) = (Verdict::Pass, false);
    for answer in answers {
        let Ok(answer) = answer.recv() else { continue };
        worst = worst.max(answer.worst);
        unusable |= answer.unusable;
        out.write_all(&answer.out)?;
    }
    out.flush()?;
    Ok((worst, unusable))
}
