/** Campaigns with a mistake beside the same campaigns without it: who notices, and what it does to the results. */
import { type Campaign, evaluate, type Quantity } from "@alcedo-dosimetry/campaign";
import { type MistakeKind, REGIMES, type RegimeName, simulate, withMistake } from "@alcedo-dosimetry/simulator";

const FIRST_SEED = 987_000;
const RESULTS = /^(separation\.stem-ratio|calibration\.coefficient|output-factor\..*)$/;

/** What the campaigns of one mistake at one size show. */
export interface MistakeRun {
  readonly campaigns: number;
  /** Campaigns with a warning or an error that the same campaign without the mistake does not have. */
  readonly noticed: number;
  /** How often each finding of that kind came, the most frequent first. */
  readonly by: readonly (readonly [code: string, campaigns: number])[];
  /** Of the result that it moved most, taken over its U in each campaign: median over the campaigns. */
  readonly effectOverU: number;
  /** Which result that was in the median campaign. */
  readonly moved: string;
}

interface Told {
  readonly codes: ReadonlySet<string>;
  readonly results: ReadonlyMap<string, Quantity>;
}

function tell(campaign: Campaign): Told {
  const { findings, quantities } = evaluate(campaign).result;
  return {
    codes: new Set(findings.filter(({ level }) => level !== "notice").map(({ code }) => code)),
    results: new Map(quantities.filter(({ id }) => RESULTS.test(id)).map((own) => [own.id, own])),
  };
}

const clean = new Map<string, Told>();

function cleanOf(regime: RegimeName, seed: number): Told {
  const key = `${regime}/${seed}`;
  const known = clean.get(key) ?? tell(simulate(REGIMES[regime](), seed).campaign);
  clean.set(key, known);
  return known;
}

/** The result that moves most, over the U that it has without the mistake; one that is gone counts as infinite. */
function effect(without: Told, spoilt: Told): { id: string; over: number } {
  let largest = { id: "–", over: 0 };
  for (const [id, { value, U }] of without.results) {
    const moved = spoilt.results.get(id);
    const over = moved && U ? Math.abs(moved.value - value) / U : Number.POSITIVE_INFINITY;
    if (over > largest.over) largest = { id, over };
  }
  return largest;
}

/** Makes the mistake in so many campaigns of consecutive seeds. */
export function mistakeRun(
  kind: MistakeKind,
  size: number | undefined,
  regime: RegimeName,
  campaigns: number,
): MistakeRun {
  const spoilt = withMistake(REGIMES[regime](), kind, size);
  const by = new Map<string, number>();
  const effects: { id: string; over: number }[] = [];
  let noticed = 0;
  for (let i = 0; i < campaigns; i++) {
    const without = cleanOf(regime, FIRST_SEED + i);
    const told = tell(simulate(spoilt, FIRST_SEED + i).campaign);
    const fresh = [...told.codes].filter((code) => !without.codes.has(code));
    if (fresh.length > 0) noticed++;
    for (const code of fresh) by.set(code, (by.get(code) ?? 0) + 1);
    effects.push(effect(without, told));
  }
  effects.sort((a, b) => a.over - b.over);
  const middle = effects[Math.floor(effects.length / 2)]!;
  return {
    campaigns,
    noticed,
    by: [...by].sort((a, b) => b[1] - a[1]),
    effectOverU: middle.over,
    moved: middle.id,
  };
}
