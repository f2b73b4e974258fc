/** What follows the list of commands in `alcedo --help`. */
export const PROGRAM_HELP = `
A campaign is a folder: datapackage.json and CSV tables, one row per reading.
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
repeated on standard error.

Examples:
  alcedo evaluate fields
  alcedo evaluate fields --json > result.json

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
};

/** What follows the options in a command's help. */
export function commandHelp(name: string): string {
  return COMMANDS[name] ?? "";
}
