/** What follows the list of commands in `alcedo --help`. */
export const PROGRAM_HELP = `
A campaign is a folder, datapackage.json and CSV tables, or a workbook (.xlsx);
one row per reading. Where a command takes FOLDER, a workbook may stand.
Doses are in Gy, lengths in mm, signals in the unit that the campaign states.
0.6123(21) means 0.6123 with a standard uncertainty of 0.0021; U is the expanded
uncertainty for 95 %.

Examples:
  alcedo new fields          a folder to fill in
  alcedo check fields        its form
  alcedo evaluate fields     its results
  alcedo trace fields output-factor.cone-5

Exit status:
  0  done
  1  evaluated, and a criterion failed or a standing is broken
  2  the campaign cannot be evaluated, or the call is wrong
  3  a fault of the program

Research and quality-assurance aid, not a medical device; for use by a qualified
medical physicist. Check independently before clinical use. Local codes,
licences and the facility's own protocol come first. Keep patient data out.`;

const COMMANDS: Readonly<Record<string, string>> = {
  new: `
The example readings are invented and marked so; "alcedo evaluate" works on them
at once. README.md in the folder says what to deliver, in order, and explains
every column. Nothing is ever written over: FOLDER is new or empty.

Examples:
  alcedo new fields
  alcedo new bunker-3 --title "Cones, bunker 3" --fibre F-0317
  alcedo new net --no-background --empty
  alcedo new fields.xlsx     one workbook in place of a folder

Exit status: 0 written; 2 FOLDER is not empty or cannot be written.`,
  check: `
Looks at the form alone: files, keys, columns, numbers and their ranges, ids.
What the readings mean is for "alcedo evaluate".

Examples:
  alcedo check fields
  alcedo check fields --json

Exit status: 0 well formed; 2 faults, each with file, row, column and remedy.`,
  evaluate: `
Prints every stage with its standing, the separation's conditions, the output
factors and the findings. Standings: ● sound, ○ untested, ◐ stale, ✕ broken.
Doses are in Gy, field sizes in mm. With --json, findings that are errors are
repeated on standard error. With --monte-carlo the distributions themselves are
propagated (GUM Supplement 1): intervals beside U, and whether U holds. The same
seed gives the same figures, on one thread or many.

Examples:
  alcedo evaluate fields
  alcedo evaluate fields --json > result.json
  alcedo evaluate fields --monte-carlo 1000000 --seed 7
  alcedo evaluate fields --monte-carlo adaptive

Exit status: 0 evaluated; 1 evaluated, and a criterion failed or a standing is
broken; 2 cannot be evaluated, the findings on standard error say why.`,
  trace: `
Prints a tree: every step with its value, standard uncertainty and share of the
result's variance, its formula in symbols and with the numbers put in, and the
readings behind every mean, those left out with their reason.

Examples:
  alcedo trace fields                                 lists the ids
  alcedo trace fields separation.stem-ratio
  alcedo trace fields output-factor.cone-5 --depth 2

Exit status: 0 shown; 2 the campaign cannot be evaluated, or has no such id.`,
  figure: `
Draws the separation plane with residuals, stem loads, output factors, the
reference over the series, budgets, the geometry to scale, and the readings of
each condition. Every picture is one self-contained SVG with a title and a
description in words; nothing is ever written over.

Examples:
  alcedo figure fields                               lists the ids
  alcedo figure fields separation > separation.svg
  alcedo figure fields output-factors --theme print --out factors.svg

Exit status: 0 drawn or listed; 2 the campaign cannot be evaluated, has no such
figure, or FILE cannot be written.`,
  compare: `
A is before, B is after. A change is attributed to the readings and inputs that
differ: mean gradient times difference; what that leaves over is the remainder.
"in u" is the change over the standard uncertainty in B.

Examples:
  alcedo compare fields fields-corrected
  alcedo compare march june --json

Exit status: 0 both evaluated, whether they differ or not; 2 one cannot be.`,
  recheck: `
The second route shares no code with the first: plain arithmetic, and every
input moved in turn for the uncertainties. Δ/u is the difference over the
standard uncertainty. Values must agree to 1e-9 of themselves (1e-6 where
volume averaging or positioning enters), uncertainties to 2 %. Quantities that
one route does not have are named.

Examples:
  alcedo recheck fields
  alcedo recheck fields --json > both-routes.json

Exit status: 0 all agree; 1 something disagrees or a standing is broken; 2 the
campaign cannot be evaluated.`,
  report: `
Kinds: record (everything: question and answer, set-up, each stage with formulas
and budgets, findings, all readings, assumptions), output-factors (two pages for
who owns the planning model), certificate (coefficients with covariance, verified
range, identity, validity). Each page bears the digest of the input, the version
and its number. Same campaign, same bytes: no clock is read. The HTML file needs
nothing else; the PDF is tagged for assistive technology.

Examples:
  alcedo report fields                           fields-record.pdf and .html
  alcedo report fields --kind certificate --date 2026-03-12
  alcedo report fields --kind output-factors --out table.pdf

Exit status: 0 written; 1 written, and a criterion failed or a standing is
broken; 2 the campaign cannot be evaluated, or the file cannot be written.`,
  export: `
The workbook's texts are texts, whatever they begin with; its percentages,
differences and ratios are formulas. The CSV tables hold numbers at full
precision and texts as typed, under schemas in datapackage.json. The
characterisation is what other campaigns with the same fibre and beam may use in
place of a separation of their own. Nothing is ever written over.

Examples:
  alcedo export fields --xlsx fields-results.xlsx
  alcedo export fields --tables fields-results
  alcedo export fields --campaign fields.xlsx
  alcedo export fields --characterisation characterisation.json

Exit status: 0 written; 1 written, and a criterion failed or a standing is
broken; 2 cannot be evaluated or written.`,
  simulate: `
A virtual beam, fibre, reader and physicist: everything in the folder is
invented, and it says so. The same regime, seed and mistakes give the same
bytes; a mistake leaves the rest of the campaign as it was. Nothing is ever
written over: FOLDER is new or empty.

Examples:
  alcedo simulate practice --seed 7 --truth
  alcedo simulate practice-2 --regime no-monitor --mistake dose-unequal=3
  alcedo simulate --list

Exit status: 0 written or listed; 2 FOLDER is not empty or cannot be written, or
the mistake cannot be made in that regime.`,
  audit: `
Looks an archive through: how the database holds its tables, the chain of seals
from the first revision to the last, whether lists, people and signatures are
what the revisions make them, and whether each signature is its signer's. The
archive is FOLDER, else ALCEDO_HOME, else alcedo in your home folder.

Nothing in the folder is changed: the database is copied to the system's
temporary folder (which needs the room) and looked through there. An archive
that the workbench has open is refused: stop it first, or look at the audit in
the workbench.

Who can rewrite a whole archive can seal it anew. Only a seal that is known from
elsewhere shows that: --seal takes one, more than once if there are more; the
last line of an audit without faults has that form.

Examples:
  alcedo audit
  alcedo audit /data/alcedo --json

Exit status: 0 nothing was altered; 1 something is not as it was kept, and is
named; 2 there is no archive, it is open, or it cannot be read.`,
  serve: `
The workbench is a page in the browser, served by this machine for this machine.
The archive is one folder: FOLDER, else ALCEDO_HOME, else alcedo in your home
folder; it is made where there is none, and belongs to one process at a time. A
folder on a network share is refused. At the first start a link is printed by
which the first person sets a passphrase. Each start, and then each day, makes a
backup in FOLDER/backups, proven by restoring it. Ctrl-C stops.

Another address than 127.0.0.1 needs encryption: ALCEDO_URL, the https address
that people open, and either ALCEDO_TLS_KEY with ALCEDO_TLS_CERT, two files, or
ALCEDO_PROXY, the IP address of a proxy that speaks HTTPS in front.

Examples:
  alcedo serve
  alcedo serve /data/alcedo --port 8080
  alcedo serve practice --example examples/demonstration

Exit status: 0 stopped; 2 it cannot listen, or the archive does not open.`,
};

/** What follows the options in a command's help. */
export function commandHelp(name: string): string {
  return COMMANDS[name] ?? "";
}
