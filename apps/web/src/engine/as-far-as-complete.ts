import {
  applyEdits,
  type Campaign,
  type Edit,
  type Evaluation,
  evaluate,
  type Finding,
} from "@alcedo-dosimetry/campaign";

/** What a campaign in the middle of being typed gives. */
export interface Provisional {
  /** The campaign that was evaluated: as it is, or without what is not complete yet. */
  readonly campaign: Campaign;
  readonly evaluation: Evaluation;
  /** What the page says about it. */
  readonly findings: readonly Finding[];
  /** False where something had to be set aside: the campaign as it stands gives no result. */
  readonly complete: boolean;
}

/** Findings of readings and tables that somebody is still typing. */
const UNFINISHED: ReadonlySet<string> = new Set(["cell-missing", "table-empty"]);
const ASIDE = "not complete yet";

/**
 * Evaluates a campaign as far as it is complete. Whoever types a reading has filled in one channel before the other: until
 * then the reading is set aside, and said to be, rather than all results taken off the page. Tables without readings wait.
 * Anything else that stands in the way of a result stands in the way here too.
 */
export function asFarAsComplete(campaign: Campaign): Provisional {
  const evaluation = evaluate(campaign);
  const { findings } = evaluation.result;
  const errors = findings.filter(({ level }) => level === "error");
  if (evaluation.model || errors.length === 0 || !errors.every(({ code }) => UNFINISHED.has(code)))
    return { campaign, evaluation, findings, complete: true };
  const trimmed = withoutUnfinished(campaign, errors);
  const own = evaluate(trimmed);
  const said = findings.flatMap((finding) => explained(campaign, finding) ?? []);
  const known = new Set(said.map(({ code, where }) => JSON.stringify([code, where])));
  // a campaign that has nothing yet is not told that it needs a table
  const more = trimmed.descriptor.resources.length === 0 ? [] : own.result.findings;
  return {
    campaign: trimmed,
    evaluation: own,
    findings: [...said, ...more.filter(({ code, where }) => !known.has(JSON.stringify([code, where])))],
    complete: false,
  };
}

/** Without empty tables, and with readings that lack a cell left out; rows keep their places. */
function withoutUnfinished(campaign: Campaign, errors: readonly Finding[]): Campaign {
  const { descriptor } = campaign;
  const nameOf = ({ where }: Finding) => descriptor.resources.find(({ path }) => path === where?.file)?.name;
  const empty = new Set(errors.flatMap((finding) => (finding.code === "table-empty" ? (nameOf(finding) ?? []) : [])));
  const edits = errors.flatMap((finding): Edit[] => {
    const table = nameOf(finding);
    const row = finding.where?.row;
    if (table === undefined || row === undefined || empty.has(table)) return [];
    return [{ cell: { table, row: row - 1, column: "exclude", text: ASIDE } }];
  });
  const marked = applyEdits(campaign, edits);
  // what is left of a table may be nothing
  const blank = (name: string) => {
    const table = marked.tables[name];
    const at = table?.columns.indexOf("exclude") ?? -1;
    return empty.has(name) || (table !== undefined && at >= 0 && table.rows.every((cells) => cells[at]!.trim() !== ""));
  };
  return {
    ...marked,
    descriptor: { ...descriptor, resources: descriptor.resources.filter(({ name }) => !blank(name)) },
    tables: Object.fromEntries(Object.entries(marked.tables).filter(([name]) => !blank(name))),
  };
}

/** What is still being typed, as something to be finished rather than something wrong. */
function explained({ tables, descriptor }: Campaign, finding: Finding): Finding | undefined {
  if (finding.code === "table-empty") {
    const name = descriptor.resources.find(({ path }) => path === finding.where?.file)?.name;
    // the stage itself says what to measure
    return name !== undefined && tables[name]?.rows.length === 0 ? undefined : finding;
  }
  if (finding.code !== "cell-missing") return finding;
  return {
    ...finding,
    level: "warning",
    effect: "The reading is set aside until it is complete; so it cannot be signed.",
  };
}
