import type { Campaign } from "@alcedo-dosimetry/campaign";
import { describe } from "./describe.ts";
import { type Exposure, expose } from "./exposure.ts";
import type { Laboratory } from "./laboratory.ts";
import { mistakeOf } from "./mistakes/catalogue.ts";
import type { Circumstances, Mistake, Papers, Spoilt } from "./mistakes/mistake.ts";
import { outputCourse } from "./output-course.ts";
import { RandomStream } from "./random-stream.ts";
import { schedule } from "./schedule.ts";
import { tableOf } from "./sheet.ts";
import type { Shot } from "./shot.ts";
import { type MadeMistake, type Place, type Truth, truthOf } from "./truth.ts";
import { drawTypeB, type TypeBErrors } from "./type-b-errors.ts";
import { writeDown } from "./write-down.ts";

/** A simulated campaign, and what is true of it. */
export interface Simulation {
  readonly campaign: Campaign;
  readonly truth: Truth;
}

/**
 * Measures a campaign in a virtual laboratory. The same laboratory and seed give the same campaign to the last bit; other
 * seeds give other noise, and other errors behind the stated uncertainties.
 *
 * @param seed whole number from 0 to 2⁵³ − 1.
 * @throws RangeError for another seed or an unknown mistake; Error for a plan of no use, or a mistake that the laboratory
 *   has no opportunity for.
 */
export function simulate(laboratory: Laboratory, seed: number): Simulation {
  const planned = laboratory.mistakes.map(({ kind, size }, i) => ({
    kind,
    size,
    mistake: mistakeOf(kind),
    // what a mistake picks, it picks alike in every phase
    circumstances: (): Circumstances => ({ laboratory, size, random: new RandomStream(seed, "mistake", i, kind) }),
  }));
  const places: Place[][] = planned.map(() => []);
  const inTurn = <T>(
    start: T,
    step: (mistake: Mistake, made: T, circumstances: Circumstances) => Spoilt<T> | undefined,
  ) =>
    planned.reduce((made, { mistake, circumstances }, i) => {
      const spoilt = step(mistake, made, circumstances());
      if (spoilt) places[i]!.push(...spoilt.places);
      return spoilt ? spoilt.made : made;
    }, start);

  const rebuilt = inTurn(laboratory, (mistake, made, { size }) => mistake.rebuild?.(made, size));
  const errors = drawTypeB(rebuilt, seed);
  const asItIs = withTrueBlur(rebuilt, errors);
  const shots = schedule(rebuilt.physicist.plan);
  const course = outputCourse(rebuilt.beam, shots, seed);
  const spoilt = inTurn<readonly Shot[]>(shots, (mistake, made, circumstances) => mistake.spoil?.(made, circumstances));
  const exposures: readonly Exposure[] = expose(asItIs, spoilt, course, errors, seed);
  const sheets = writeDown(asItIs, exposures, errors);
  const papers = inTurn<Papers>(
    { descriptor: describe(rebuilt, sheets, seed), sheets },
    (mistake, made, circumstances) => mistake.mistype?.(made, circumstances),
  );
  const made = planned.map(({ kind, size }, i): MadeMistake => ({ kind, size, places: places[i]! }));
  return {
    campaign: {
      descriptor: papers.descriptor,
      tables: Object.fromEntries(papers.sheets.map((sheet) => [sheet.series, tableOf(sheet)])),
    },
    truth: truthOf(withTrueBlur(laboratory, errors), exposures, errors, seed, made),
  };
}

/** The laboratory with the blur that its beam's edges really have; itself where that is the one that it states. */
function withTrueBlur(laboratory: Laboratory, { penumbraSigma_mm }: TypeBErrors): Laboratory {
  const { beam } = laboratory;
  return beam.edgeSigma_mm === penumbraSigma_mm
    ? laboratory
    : { ...laboratory, beam: { ...beam, edgeSigma_mm: penumbraSigma_mm } };
}
