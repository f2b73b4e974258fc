import { type NetCondition, readingLights } from "@alcedo-dosimetry/dosimetry";
import type { Campaign } from "../campaign.ts";
import { chainSeries } from "../chain-series.ts";
import type { Evaluation } from "../evaluate.ts";
import type { Evaluated } from "../evaluated.ts";
import { outlineOf } from "../read-descriptor.ts";
import { interpret } from "../readings.ts";
import { STAGES, type StageId } from "../result.ts";

/** A reading beside its repeats. */
export interface VisitReading {
  readonly id: string;
  /** Row of the table, from 0. */
  readonly row: number;
  /** By channel, as repeats are compared: net and normalised where the evaluation came so far, else as read. */
  readonly signals: readonly number[];
  /** What the last digit shown is worth in each of them. */
  readonly digits: readonly number[];
  /** Corrected light of this one reading, where there is a separation. */
  readonly corrected?: number;
  /** Why it is left out; absent where it counts. */
  readonly exclude?: string;
}

/** Readings taken one after the other under one condition. A condition that is come back to has several visits. */
export interface Visit {
  readonly series: StageId;
  readonly condition: string;
  readonly readings: readonly VisitReading[];
  /**
   * What a reading of this visit should scatter by in each channel, beside those of other visits: small signals scatter
   * more, in relation. In the unit of the signals; only ratios between visits mean anything.
   */
  readonly expected?: readonly number[];
}

/** A reading as the evaluation compares it. */
interface Compared {
  readonly normalised: readonly number[];
  readonly corrected?: number;
  readonly condition: NetCondition;
}

/**
 * The visits of a campaign, in the order of the chain and of its tables, from as much of them as can be read: a row that
 * is not whole is not among them, and an evaluation that stopped is none to wait for.
 */
export function visitsOf(campaign: Campaign, { evaluated }: Pick<Evaluation, "evaluated">): readonly Visit[] {
  const outline = outlineOf(campaign.descriptor);
  if (!outline) return [];
  const typed = chainSeries(interpret(campaign, outline).series);
  return STAGES.flatMap((series): Visit[] => {
    const readings = typed[series]?.readings ?? [];
    const compared = evaluated ? comparedReadings(evaluated, series) : new Map<string, Compared>();
    const visits: { condition: string; readings: (typeof readings)[number][] }[] = [];
    for (const reading of readings) {
      const last = visits.at(-1);
      if (last?.condition === reading.condition) last.readings.push(reading);
      else visits.push({ condition: reading.condition, readings: [reading] });
    }
    return visits.map((visit) => visitOf(series, visit.condition, visit.readings, compared));
  });
}

type ChainReading = NonNullable<ReturnType<typeof chainSeries>["background"]>["readings"][number];

function visitOf(
  series: StageId,
  condition: string,
  readings: readonly (ChainReading & { readonly row?: number })[],
  compared: ReadonlyMap<string, Compared>,
): Visit {
  const whole = readings.flatMap((reading) => {
    const raw = reading.signals.filter((signal) => signal !== undefined);
    return raw.length === reading.signals.length ? [{ ...reading, raw }] : [];
  });
  // one that the evaluation did not reach has no like among those it did
  const reached = whole.length > 0 && whole.every(({ id }) => compared.has(id));
  const first = reached ? compared.get(whole[0]!.id)!.condition : undefined;
  return {
    series,
    condition,
    readings: whole.map(({ id, row, raw, digits, exclude }): VisitReading => {
      const own = reached ? compared.get(id)! : undefined;
      const signals = own?.normalised ?? raw;
      return {
        id,
        row: row! - 1,
        signals,
        digits: raw.map((value, c) => Math.abs(value === 0 ? 1 : signals[c]! / value) * (digits[c] ?? 0)),
        ...(own?.corrected !== undefined && { corrected: own.corrected }),
        ...(exclude !== undefined && { exclude }),
      };
    }),
    ...(first && { expected: scatterOf(first) }),
  };
}

function comparedReadings(evaluated: Evaluated, series: StageId): Map<string, Compared> {
  const { separation, calibration, outputFactors, weights } = evaluated;
  const net = { background: undefined, separation, calibration, "output-factors": outputFactors }[series]?.net;
  const readings = evaluated.series[series]?.readings;
  const found = new Map<string, Compared>();
  for (const condition of net?.conditions ?? []) {
    const lights = weights && readingLights(weights, condition);
    for (const own of [...(lights?.counting ?? condition.perReading), ...(lights?.leftOut ?? condition.leftOut)]) {
      const corrected = "corrected" in own ? (own.corrected as number) : undefined;
      found.set(readings![own.row]!.id, {
        normalised: own.normalised,
        condition,
        ...(corrected !== undefined && Number.isFinite(corrected) && { corrected }),
      });
    }
  }
  return found;
}

/** Standard deviation of one reading by the pooled covariance, channel by channel. */
function scatterOf({ weightCovariance, count }: NetCondition): number[] {
  const n = Math.sqrt(weightCovariance.length);
  return Array.from({ length: n }, (_, c) => Math.sqrt(weightCovariance[c * (n + 1)]! * count));
}
