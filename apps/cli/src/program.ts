import type { KnownSeal } from "@alcedo-dosimetry/archive";
import { fittingName, isDay, NAME_PATTERN, VERSION } from "@alcedo-dosimetry/campaign";
import { THEMES } from "@alcedo-dosimetry/figures";
import { Command, CommanderError, InvalidArgumentError, Option } from "commander";
import type { AuditOptions } from "./audit-command.ts";
import { checkCommand } from "./check-command.ts";
import { compareCommand } from "./compare-command.ts";
import { type EvaluateOptions, evaluateCommand } from "./evaluate-command.ts";
import type { ExportOptions } from "./export-command.ts";
import type { FigureOptions } from "./figure-command.ts";
import { commandHelp, PROGRAM_HELP } from "./help-texts.ts";
import { type NewOptions, newCommand } from "./new-command.ts";
import { type MistakeToMake, mistakeToMake } from "./planned-mistake.ts";
import { recheckCommand } from "./recheck-command.ts";
import { REGIME_MEANINGS } from "./regime-meanings.ts";
import { REPORT_KINDS, type ReportKind } from "./report-kinds.ts";
import { type ServeOptions, serveCommand } from "./serve-command.ts";
import { type SimulateOptions, simulateCommand } from "./simulate-command.ts";
import { type TraceOptions, traceCommand } from "./trace-command.ts";
import type { World } from "./world.ts";

/** 0 done, 1 a criterion failed or a standing is broken, 2 the input or the call cannot be used, 3 a fault of the program. */
export type ExitStatus = 0 | 1 | 2 | 3;

/** Runs the program with the words that follow its name; everything that it says goes to the two streams. */
export async function run(words: readonly string[], world: World): Promise<ExitStatus> {
  let status: ExitStatus = 0;
  try {
    await program(world, (own) => {
      status = own;
    }).parseAsync(words, { from: "user" });
    return status;
  } catch (error) {
    // Commander has said what is wrong, or shown the help that was asked for.
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
    world.errors.print([internalFault(error, words[0] ?? "")]);
    return 3;
  }
}

/** The commands. Those that draw or write documents are loaded when they are called: their libraries are large. */
function program(world: World, done: (status: ExitStatus) => void): Command {
  const alcedo = new Command("alcedo")
    .description(
      "Small-field dosimetry with plastic scintillation detectors: output factors with uncertainty and origin.",
    )
    .version(VERSION, "-V, --version", "print the version")
    .helpOption("-h, --help", "print this help")
    .helpCommand("help [command]", "print the help of a command")
    .showHelpAfterError("alcedo --help lists the commands; alcedo COMMAND --help explains one.")
    .addHelpText("after", PROGRAM_HELP)
    .exitOverride()
    .configureOutput({
      writeOut: (text) => world.stdout.write(text),
      writeErr: (text) => world.stderr.write(text),
      getOutHelpWidth: () => world.page.width,
      getErrHelpWidth: () => world.errors.width,
      getOutHasColors: () => false,
      getErrHasColors: () => false,
      outputError: (text, write) => write(`alcedo: ${text.replace(/^error: /, "")}`),
    });
  const command = (name: string, description: string) =>
    alcedo
      .command(name)
      .description(description)
      .addHelpText("after", commandHelp(name.split(" ")[0]!));
  const json = ["--json", "print one JSON object on standard output and nothing else there"] as const;

  command("new FOLDER", "write a campaign folder to fill in, with an explained example")
    .option("--title <TITLE>", "title of the campaign")
    .addOption(
      new Option("--channels <NAMES>", "names of the channels, the one rich in scintillation first")
        .argParser(channelNames)
        .default(["blue", "green"], "blue,green"),
    )
    .option("--fibre <ID>", "id of the fibre", "F-0001")
    .option("--no-background", "no background series: the readings are net signals")
    .option("--empty", "headers only, no example readings")
    .option("--xlsx", "write one workbook in place of a folder; so does a name that ends in .xlsx")
    .action(async (folder: string, options: NewOptions) => done(await newCommand(folder, options, world)));
  command("check FOLDER", "look at the form of a campaign: all faults in one go, or what it holds")
    .option(...json)
    .action(async (folder: string, options: { json?: boolean }) => done(await checkCommand(folder, options, world)));
  command("evaluate FOLDER", "evaluate a campaign: stem ratio, calibration, output factors, findings")
    .option("--as-of <DATE>", "day against which a characterisation may be stale (default: of the last reading)", day)
    .option("--monte-carlo <N>", "propagate by so many trials as well, or adaptive: until u has two digits", trials)
    .option("--seed <N>", "of the trials: another number, other draws (default: 1)", wholeNumber)
    .option("--threads <N>", "that share the trials; the result is the same (default: one a core)", threads)
    .option(...json)
    .action(async (folder: string, options: EvaluateOptions) => done(await evaluateCommand(folder, options, world)));
  command("trace FOLDER [ID]", "show where a number comes from, down to the readings; without ID list the ids")
    .option("--depth <N>", "steps below the number that are shown (default: all)", wholeNumber)
    .option(...json)
    .action(async (folder: string, id: string | undefined, options: TraceOptions) =>
      done(await traceCommand(folder, id, options, world)),
    );
  command("figure FOLDER [ID]", "draw a figure of an evaluation as SVG; without ID list the figures")
    .addOption(new Option("--theme <NAME>", "for a light page, a dark room or print").choices(THEMES).default("light"))
    .option("--out <FILE>", "write a new file in place of standard output")
    .action(async (folder: string, id: string | undefined, options: FigureOptions) => {
      const { figureCommand } = await import("./figure-command.ts");
      done(await figureCommand(folder, id, options, world));
    });
  command("compare A B", "compare two campaigns: what changed, and through which readings and inputs")
    .option(...json)
    .action(async (a: string, b: string, options: { json?: boolean }) =>
      done(await compareCommand([a, b], options, world)),
    );
  command("recheck FOLDER", "check every number by a second, independent route, side by side with the first")
    .option(...json)
    .action(async (folder: string, options: { json?: boolean }) => done(await recheckCommand(folder, options, world)));
  command("report FOLDER", "write the document to sign: full record, output factors or certificate; PDF and HTML")
    .addOption(new Option("--kind <KIND>", "which document").argParser(reportKind).default("record"))
    .option("--out <FILE>", "the file, .pdf or .html; without ending both (default: both, beside FOLDER)")
    .option("--date <YYYY-MM-DD>", "the date that the document bears (default: a line to fill in)", calendarDate)
    .option("--force", "replace a file that is there")
    .action(async (folder: string, options: { kind: ReportKind; out?: string; date?: string; force?: boolean }) => {
      const { reportCommand } = await import("./report-command.ts");
      done(await reportCommand(folder, options, world));
    });
  command("export FOLDER", "write results as a workbook or as CSV tables, or the campaign itself as a workbook")
    .option("--xlsx <FILE>", "results as a workbook, percentages and differences as live formulas")
    .option("--tables <FOLDER>", "results as a Data Package of CSV tables")
    .option("--campaign <FILE>", "the campaign as a workbook, which every command opens like a folder")
    .option("--characterisation <FILE>", "stem ratio and coefficient as JSON, for campaigns of other days")
    .option("--date <DATE>", "day of the readings behind the characterisation, where they have no times", day)
    .action(async (folder: string, options: ExportOptions) => {
      const { exportCommand } = await import("./export-command.ts");
      done(await exportCommand(folder, options, world));
    });
  command("simulate [FOLDER]", "write a simulated campaign, marked as one, of which the truth is known")
    .addOption(new Option("--regime <NAME>", "way of measuring").argParser(regimeName).default("five-repeats"))
    .option("--seed <N>", "another number, other noise and other errors", wholeNumber, 1)
    .option("--mistake <KIND[=SIZE]>", "a mistake that is made, or several of them in turn", oneMoreMistake)
    .option("--truth", "write truth.json as well: the true values, and where a mistake was made")
    .option("--list", "list the regimes and the kinds of mistakes with their meaning")
    .action((folder: string | undefined, options: SimulateOptions) => done(simulateCommand(folder, options, world)));
  command("serve [FOLDER]", "open the workbench in the browser, on the archive in FOLDER, until it is stopped")
    .option("--port <N>", "where it listens (default: PORT, or 4270); 0 for any that is free", port)
    .option("--host <ADDRESS>", "address to listen on (default: HOST, or 127.0.0.1, this machine alone)")
    .option("--example <CAMPAIGN>", "a campaign folder that an archive without campaigns takes in")
    .action(async (folder: string | undefined, options: ServeOptions) =>
      done(await serveCommand(folder, options, world)),
    );
  command("audit [FOLDER]", "look whether anything in an archive was altered; changes nothing")
    .option(
      "--seal <SEQ:SEAL>",
      "a seal that is known from elsewhere: of a signed page, or an earlier audit",
      oneMoreSeal,
    )
    .option(...json)
    .action(async (folder: string | undefined, options: AuditOptions) => {
      const { auditCommand } = await import("./audit-command.ts");
      done(await auditCommand(folder, options, world));
    });
  return alcedo;
}

function oneMoreSeal(text: string, before: readonly KnownSeal[] = []): readonly KnownSeal[] {
  const [, revision, seal] = /^([1-9]\d{0,14}):([0-9a-f]{64})$/i.exec(text.trim()) ?? [];
  if (revision === undefined || seal === undefined)
    throw new InvalidArgumentError("Write the number of a revision, a colon, and its seal of 64 hexadecimal digits.");
  return [...before, { revision: Number(revision), seal: seal.toLowerCase() }];
}

function channelNames(text: string): readonly string[] {
  const names = text.split(",").map((name) => name.trim());
  const unfit = names.find((name) => !NAME_PATTERN.test(name));
  if (unfit !== undefined) {
    const fitting = fittingName(unfit);
    throw new InvalidArgumentError(
      `${JSON.stringify(unfit)} is no name of a channel: small letters, digits, point and hyphen${fitting === "" ? "" : `, such as ${fitting}`}.`,
    );
  }
  if (names.length < 2) throw new InvalidArgumentError("At least two channels are needed: blue,green.");
  if (new Set(names).size < names.length) throw new InvalidArgumentError("Two channels have the same name.");
  return names;
}

function regimeName(text: string): string {
  if (!Object.hasOwn(REGIME_MEANINGS, text))
    throw new InvalidArgumentError(`There are ${Object.keys(REGIME_MEANINGS).join(", ")}.`);
  return text;
}

function reportKind(text: string): ReportKind {
  const kind = REPORT_KINDS.find((own) => own === text);
  if (!kind) throw new InvalidArgumentError(`There are ${REPORT_KINDS.join(", ")}.`);
  return kind;
}

function calendarDate(text: string): string {
  const [year, month, day] = /^\d{4}-\d\d-\d\d$/.test(text) ? text.split("-").map(Number) : [];
  const leap = year !== undefined && year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  const days = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][(month ?? 0) - 1] ?? 0;
  if (!day || day > days)
    throw new InvalidArgumentError("Write a day of the calendar as YYYY-MM-DD, such as 2026-03-12.");
  return text;
}

function oneMoreMistake(text: string, before: readonly MistakeToMake[] = []): readonly MistakeToMake[] {
  try {
    return [...before, mistakeToMake(text)];
  } catch (error) {
    throw error instanceof RangeError ? new InvalidArgumentError(error.message) : error;
  }
}

/** The most trials of a run. */
const MOST_TRIALS = 40_000_000;

function trials(text: string): number | "adaptive" {
  if (text === "adaptive") return text;
  const number = /^\d{1,8}$/.test(text) ? Number(text) : 0;
  if (number < 1 || number > MOST_TRIALS)
    throw new InvalidArgumentError(`Write a number of trials from 1 to ${MOST_TRIALS}, such as 100000, or "adaptive".`);
  return number;
}

function threads(text: string): number {
  if (!/^[1-9]\d?$/.test(text)) throw new InvalidArgumentError("Write a number of threads from 1 to 99.");
  return Number(text);
}

function day(text: string): string {
  if (!isDay(text)) throw new InvalidArgumentError("Write a day of the calendar as YYYY-MM-DD.");
  return text;
}

function port(text: string): string {
  if (!/^\d{1,5}$/.test(text) || Number(text) > 65_535)
    throw new InvalidArgumentError("Write a number from 1 to 65535, or 0 for any port that is free.");
  return text;
}

function wholeNumber(text: string): number {
  if (!/^\d{1,15}$/.test(text))
    throw new InvalidArgumentError("Write a whole number from 0 upwards, of at most 15 digits.");
  return Number(text);
}

/** One line about a fault of the program itself, with what a report of it needs. */
function internalFault(error: unknown, command: string): string {
  const { message, stack } = error instanceof Error ? error : { message: String(error), stack: "" };
  const place = /\n\s+at (.+)/.exec(stack ?? "")?.[1] ?? "place unknown";
  return `alcedo: a fault of the program, not of your data. Please report: alcedo ${VERSION}, ${command}, "${message.split("\n")[0]}", at ${place}.`;
}
