import { setImmediate as nextTurn } from "node:timers/promises";
import { type Archive, campaignAt, evaluationAt, fibreCampaigns, identities } from "@alcedo-dosimetry/archive";
import { ASSUMPTION_DEFAULTS, type Campaign, columnAt, type Standing } from "@alcedo-dosimetry/campaign";
import type { Fibre } from "@alcedo-dosimetry/protocol";

/** So many campaigns of a fibre are looked at for its sensitivity. */
const POINTS = 60;
/** Evaluations that are remembered, the latest used: each is some numbers. */
const REMEMBERED = 20_000;

type Point = Fibre["sensitivity"][number];

/** What is remembered of an evaluation, which never changes: where the fibre stood on that day. */
interface Seen {
  readonly point?: Point;
  readonly day?: string;
}

/** The fibres with their standing, their sensitivity over time and what is due. */
export class FibreOverview {
  readonly #archive: Archive;
  readonly #seen = new Map<number, Seen>();

  constructor(archive: Archive) {
    this.#archive = archive;
  }

  /** @param now milliseconds since 1970 */
  async fibres(now: number): Promise<Fibre[]> {
    const known = new Map((await identities(this.#archive, "fibre")).map((fibre) => [fibre.id, fibre]));
    const used = new Map((await fibreCampaigns(this.#archive, POINTS)).map((fibre) => [fibre.fibre, fibre]));
    const all: Fibre[] = [];
    for (const id of [...new Set([...known.keys(), ...used.keys()])].sort()) {
      const { campaigns = 0, last, evaluations = [] } = used.get(id) ?? {};
      const seen: Seen[] = [];
      for (const { seq, campaign } of evaluations) seen.push(await this.#look(seq, campaign));
      const standing = (evaluations[0]?.standing as Standing | undefined) ?? null;
      const day = seen
        .flatMap((own) => own.day ?? [])
        .sort()
        .at(-1);
      all.push({
        ...{ id, standing, campaigns },
        ...(known.has(id) && { description: { ...known.get(id)!.description } }),
        ...(last !== undefined && { last }),
        sensitivity: seen.flatMap(({ point }) => point ?? []).sort(byDay),
        due: due({ standing, campaigns, day, now, evaluated: evaluations.length > 0 }),
      });
    }
    return all;
  }

  async #look(seq: number, id: string): Promise<Seen> {
    const before = this.#seen.get(seq);
    if (before !== undefined) return before;
    await nextTurn(); // whoever else asks comes in between
    const { result } = await evaluationAt(this.#archive, seq);
    const { campaign } = await campaignAt(this.#archive, id);
    const seen = seenIn(id, campaign, result.quantities);
    if (this.#seen.size >= REMEMBERED) this.#seen.delete(this.#seen.keys().next().value!);
    this.#seen.set(seq, seen);
    return seen;
  }
}

function seenIn(
  id: string,
  campaign: Campaign,
  quantities: readonly { id: string; value: number; u: number | null; unit: string }[],
): Seen {
  const day = lastDay(campaign);
  const found = quantities.find((quantity) => quantity.id === "calibration.coefficient");
  const dose = campaign.descriptor.alcedo.detector.accumulatedDose_Gy;
  if (found === undefined) return { ...(day !== undefined && { day }) };
  const { value, u, unit } = found;
  const point = {
    ...{ campaign: id, value, u, unit },
    ...(day !== undefined && { day }),
    ...(dose !== undefined && { dose_Gy: dose }),
  };
  return { point, ...(day !== undefined && { day }) };
}

/** The day of a campaign's last reading, as its column of times says. */
function lastDay({ tables }: Campaign): string | undefined {
  return Object.values(tables)
    .flatMap(({ columns, rows }) => {
      const time = columnAt(columns, "time");
      return time < 0 ? [] : rows.flatMap((row) => /^\d{4}-\d\d-\d\d(?=T)/.exec(row[time]!.trim())?.[0] ?? []);
    })
    .sort()
    .at(-1);
}

function byDay(a: Point, b: Point): number {
  return (a.day ?? "") < (b.day ?? "") ? -1 : 1;
}

interface Situation {
  readonly standing: Standing | null;
  readonly campaigns: number;
  readonly evaluated: boolean;
  readonly day: string | undefined;
  readonly now: number;
}

const DAY_ms = 86_400_000;

/** What is to be done with a fibre next. The age after which it is characterised anew is the default of the criteria. */
function due({ standing, campaigns, evaluated, day, now }: Situation): string[] {
  const lines: string[] = [];
  if (campaigns > 0 && !evaluated) lines.push("No campaign with it is evaluated yet.");
  if (standing === "broken") lines.push("Its last evaluation is broken: see the findings.");
  if (standing === "stale") lines.push("Its characterisation is stale: separate and calibrate again.");
  const limit = ASSUMPTION_DEFAULTS.characterisationAge_days.value;
  const age = day === undefined ? undefined : Math.floor((now - Date.parse(day)) / DAY_ms);
  if (age !== undefined && age > limit)
    lines.push(`Its last readings are ${age} days old, more than ${limit}: characterise it again.`);
  return lines;
}
