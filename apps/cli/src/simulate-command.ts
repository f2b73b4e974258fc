import { writeFolder } from "@alcedo-dosimetry/exchange";
import {
  type Laboratory,
  MISTAKES,
  REGIMES,
  type RegimeName,
  type Simulation,
  simulate,
  trueQuantities,
  withMistake,
} from "@alcedo-dosimetry/simulator";
import { jsonText } from "./json-output.ts";
import type { Page } from "./page.ts";
import type { MistakeToMake } from "./planned-mistake.ts";
import { printable } from "./printable.ts";
import { REGIME_MEANINGS } from "./regime-meanings.ts";
import { shellWord } from "./shell-word.ts";
import { layTable } from "./table.ts";
import type { World } from "./world.ts";
import { wrap } from "./wrap.ts";
import { writeNewFolder } from "./write-new-folder.ts";

/** What `alcedo simulate` may be told. */
export interface SimulateOptions {
  readonly regime: RegimeName;
  readonly seed: number;
  readonly mistake?: readonly MistakeToMake[];
  readonly truth?: boolean;
  readonly list?: boolean;
}

/** The file that holds what is true in a simulated campaign. */
const TRUTH_FILE = "truth.json";

/** `alcedo simulate`: a campaign measured in a virtual laboratory, or the list of what can be simulated. */
export function simulateCommand(folder: string | undefined, options: SimulateOptions, world: World): 0 | 2 {
  const { page } = world;
  if (options.list) {
    page.print(listLines(page));
    return 0;
  }
  const refused = (message: string): 2 => {
    world.errors.print(wrap(`alcedo simulate: ${message}`, world.errors.width));
    return 2;
  };
  if (folder === undefined) return refused("FOLDER is missing: name a new folder, or say --list.");
  const simulation = simulated(options);
  if (typeof simulation === "string") return refused(simulation);
  const truth: [string, string][] = options.truth ? [[TRUTH_FILE, truthText(simulation, options)]] : [];
  const files = new Map<string, string | Uint8Array>([...writeFolder(simulation.campaign), ...truth]);
  const reason = writeNewFolder(folder, files);
  if (reason !== undefined) return refused(reason);
  page.print([
    ...wrap("SIMULATED DATA: no such place, machine, fibre or measurement exists. Not for use.", page.width).map(
      page.ink.bold,
    ),
    "",
    ...wrap(`${printable(folder)}: ${[...files.keys()].join(", ")}`, page.width),
    ...wrap(setUpInWords(options), page.width),
    "",
    `  alcedo evaluate ${shellWord(folder)}`,
  ]);
  return 0;
}

/** The simulation, or why the laboratory has no opportunity for a mistake. */
function simulated({ regime, seed, mistake = [] }: SimulateOptions): Simulation | string {
  try {
    const start: Laboratory = REGIMES[regime]();
    const laboratory = mistake.reduce((made, { kind, size }) => withMistake(made, kind, size), start);
    return simulate(laboratory, seed);
  } catch (error) {
    // The laboratory refuses with these two; whatever else is thrown is a fault of the program.
    const refusal = error instanceof Error && [Error, RangeError].some((kind) => error.constructor === kind);
    if (!refusal || mistake.length === 0) throw error;
    const kinds = mistake.map(({ kind }) => kind).join(", ");
    return `${kinds} cannot be made in the regime ${regime}: ${error.message}.`;
  }
}

function sizeOf({ kind, size }: MistakeToMake): number | undefined {
  return size ?? MISTAKES[kind].size?.usual;
}

function setUpInWords({ regime, seed, mistake = [] }: SimulateOptions): string {
  const mistakes = mistake.map((own) => {
    const size = sizeOf(own);
    return size === undefined ? own.kind : `${own.kind}=${size}`;
  });
  return `Regime ${regime}, seed ${seed}, ${mistakes.length === 0 ? "no mistake" : mistakes.join(", ")}.`;
}

function truthText({ truth }: Simulation, { regime, seed, mistake = [] }: SimulateOptions): string {
  return jsonText({
    simulated: "What is true in a virtual laboratory: no such place, machine, fibre or measurement exists.",
    regime,
    seed,
    mistakes: mistake.map((own, i) => ({
      kind: own.kind,
      what: MISTAKES[own.kind].what,
      ...(sizeOf(own) !== undefined && { size: sizeOf(own) }),
      places: truth.mistakes[i]!.places,
    })),
    quantities: Object.fromEntries(trueQuantities(truth)),
  });
}

function listLines({ width, ink }: Page): string[] {
  const columns = (head: string) => [{ head }, { head: "meaning", flexible: true, least: 30 }];
  const mistakes = Object.entries(MISTAKES).map(([kind, { what, size }]) => [
    kind,
    size ? `${what} Size: ${size.meaning}; usually ${size.usual}.` : what,
  ]);
  return [
    ...layTable(columns("regime"), Object.entries(REGIME_MEANINGS), width, ink.dim).lines,
    "",
    ...layTable(columns("mistake"), mistakes, width, ink.dim).lines,
  ];
}
