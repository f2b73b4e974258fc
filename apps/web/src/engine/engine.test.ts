import { applyEdits, type Campaign, evaluate, type Table, traceQuantity } from "@alcedo-dosimetry/campaign";
import { describe, expect, test } from "vitest";
import { createEngine } from "./engine.ts";
import { kept } from "./engine-client.ts";
import { firstDifference } from "./first-difference.ts";
import type { Answer, Outcome, Question } from "./orders.ts";

const table = (path: string, columns: readonly string[], rows: readonly (readonly string[])[]): Table => ({
  ...{ path, decimal: ".", columns, rows },
  lines: rows.map((_, k) => k + 2),
});
/** Invented. */
const campaign: Campaign = {
  descriptor: {
    name: "invented",
    alcedo: {
      version: 1,
      detector: { id: "F-1", channels: ["blue", "green"], signalUnit: "nC" },
      beam: { id: "B-1", modality: "photon", energy_MV: 6 },
    },
    resources: [{ name: "separation", path: "separation.csv", alcedo: { series: "separation" } }],
  },
  tables: {
    separation: table(
      "separation.csv",
      ["reading", "condition", "dose_group", "role", "signal_blue", "signal_green", "fibre_mm"],
      [
        ["s1", "little", "a", "fit", "6.501", "3.500", "50"],
        ["s2", "little", "a", "fit", "6.499", "3.502", "50"],
        ["s3", "much", "a", "fit", "16.999", "17.500", "400"],
        ["s4", "much", "a", "fit", "17.002", "17.498", "400"],
        ["s5", "half", "a", "verify", "11.001", "9.503", "200"],
        ["s6", "half", "a", "verify", "11.003", "9.499", "200"],
      ],
    ),
  },
};
const blue = (row: number, text: string) => ({ cell: { table: "separation", row, column: "signal_blue", text } });
const RATIO = "separation.stem-ratio";

/** An engine whose orders wait until they are worked on. */
function engine() {
  const answers: Answer[] = [];
  const works: (() => void)[] = [];
  const own = createEngine({ post: (answer) => answers.push(answer), later: (work) => works.push(work), now: () => 0 });
  const work = () => {
    for (const one of works.splice(0)) one();
    return answers.splice(0);
  };
  let request = 0;
  const ask = (question: Question) => {
    own.receive({ question, request: ++request });
    const [answer] = work();
    return answer as { readonly request: number; readonly reply: { readonly is: unknown }; readonly failed?: string };
  };
  return { ...own, work, ask };
}
const ratioOf = ({ quantities }: Outcome) => quantities.find(({ id }) => id === RATIO)!.value;
const expected = (own: Campaign) => evaluate(own).result.quantities.find(({ id }) => id === RATIO)!.value;
const outcomes = (answers: readonly Answer[]) =>
  answers.flatMap((answer) => ("outcome" in answer ? [answer.outcome] : []));

describe("the engine", () => {
  test("answers a campaign with its outcome, and edits with the outcome of the edited one", () => {
    const { receive, work } = engine();
    receive({ open: campaign, number: 1 });
    expect(outcomes(work()).map((own) => [own.number, ratioOf(own)])).toEqual([[1, expected(campaign)]]);
    receive({ edits: [blue(2, "17.2")], number: 2 });
    const after = applyEdits(campaign, [blue(2, "17.2")]);
    expect(outcomes(work()).map((own) => [own.number, ratioOf(own)])).toEqual([[2, expected(after)]]);
  });

  test("works out only the latest of the orders that wait", () => {
    const { receive, work } = engine();
    receive({ open: campaign, number: 1 });
    for (let k = 0; k < 5; k++) receive({ edits: [blue(2, `17.${k}`)], number: k + 2 });
    expect(outcomes(work()).map(({ number }) => number)).toEqual([6]);
  });

  test("shows what is being typed, and forgets it when it is taken back, entered, or has lost its row", () => {
    const { receive, work } = engine();
    receive({ open: campaign, number: 1 });
    receive({ draft: [blue(2, "17.2")], number: 2 });
    expect(ratioOf(outcomes(work())[0]!)).toBe(expected(applyEdits(campaign, [blue(2, "17.2")])));
    receive({ draft: null, number: 3 });
    expect(ratioOf(outcomes(work())[0]!)).toBe(expected(campaign));
    receive({ draft: [blue(9, "17.2")], number: 4 });
    expect(ratioOf(outcomes(work())[0]!)).toBe(expected(campaign));
    receive({ draft: [blue(2, "1.2")], number: 5 });
    receive({ edits: [blue(2, "17.3")], number: 6 });
    expect(ratioOf(outcomes(work())[0]!)).toBe(expected(applyEdits(campaign, [blue(2, "17.3")])));
  });

  test("tells what each condition gives, by the names of its quantities", () => {
    const { receive, work } = engine();
    receive({ open: campaign, number: 1 });
    const [{ rows, mains, stages }] = outcomes(work()) as [Outcome];
    expect(rows.separation!.map(({ condition, role, count }) => [condition, role, count])).toEqual([
      ["little", "fit", 2],
      ["much", "fit", 2],
      ["half", "verify", 2],
    ]);
    expect(rows.separation![0]!.signals).toEqual([expect.closeTo(6.5, 9), expect.closeTo(3.501, 9)]);
    expect(rows.separation![2]!.ids).toMatchObject({
      verify: "separation.verify.half",
      load: "stem-load.separation.half",
    });
    expect(mains.separation).toContain("stem ratio ρ 0.75");
    expect(stages.map(({ id }) => id)).toEqual(["separation"]);
  });

  test("answers a question about the campaign as it is, after what waits before it", () => {
    const { receive, ask } = engine();
    receive({ open: campaign, number: 1 });
    receive({ edits: [blue(2, "17.2")], number: 2 });
    receive({ question: { sameAs: evaluate(applyEdits(campaign, [blue(2, "17.2")])).result }, request: 99 });
    const again = ask({ sameAs: evaluate(campaign).result });
    expect(again).toMatchObject({ outcome: { number: 2 } });
  });

  test("traces a number step by step, and finds the way to each input of its budget", () => {
    const { receive, work, ask } = engine();
    receive({ open: campaign, number: 1 });
    work();
    const root = traceQuantity(evaluate(campaign), RATIO)!;
    const view = ask({ trace: RATIO, path: [] }).reply.is as NonNullable<import("./orders.ts").TraceView>;
    expect(view.step).toMatchObject({ node: root.node, value: root.value, u: root.u });
    expect(view.inputs.map(({ node }) => node)).toEqual(root.inputs.map(({ node }) => node));
    expect(view.budget.map(({ share }) => share)).toEqual(
      view.budget.map(({ share }) => share).toSorted((a, b) => b - a),
    );
    const [first] = view.budget;
    expect(first!.path).toBeDefined();
    const there = ask({ trace: RATIO, path: first!.path! }).reply.is as typeof view;
    expect(there.step.label).toBe(first!.label);
    expect(there.step.share).toBeCloseTo(first!.share, 9);
    const net = ask({ trace: RATIO, path: [root.inputs[0]!.node] }).reply.is as typeof view;
    expect(net.readings.map(({ reading }) => reading)).toEqual(["s1", "s2"]);
    expect(ask({ trace: "nothing", path: [] }).reply.is).toBeNull();
    expect(ask({ trace: "separation.chi2", path: [] }).reply.is).toBeNull();
  });

  test("holds a what-if beside the official campaign, which stays as it is", () => {
    const { receive, work, ask } = engine();
    receive({ open: campaign, number: 1 });
    work();
    const edits = [{ cell: { table: "separation", row: 2, column: "exclude", text: "trial" } }];
    const answer = ask({ whatIf: edits }).reply.is as import("./orders.ts").WhatIf;
    const change = answer.changes.find(({ id }) => id === RATIO)!;
    expect(change.before).toBe(expected(campaign));
    expect(change.after).toBe(expected(applyEdits(campaign, edits)));
    expect(change.by[0]!.input).toBe("separation/s3");
    expect((ask({ whatIf: [] }).reply.is as typeof answer).changes).toEqual([]);
    expect(ask({ whatIf: [blue(77, "1")] }).failed).toContain("has no row 78");
    expect(ask({ sameAs: evaluate(campaign).result }).reply.is).toBeNull();
  });

  test("draws figures by their ids, what is set up under one condition among them", () => {
    const { receive, work, ask } = engine();
    receive({ open: campaign, number: 1 });
    work();
    const drawn = ask({ figures: ["separation", "geometry.separation.half", "no such"] }).reply.is as { id: string }[];
    expect(drawn.map(({ id }) => id)).toEqual(["separation", "geometry.separation.half"]);
  });
});

describe("the first difference of two results", () => {
  test.each([
    [{ a: [1, { b: 2 }] }, { a: [1, { b: 2 }] }, null],
    [{ a: [1, { b: 2 }] }, { a: [1, { b: 2.0000000000000004 }] }, "a.1.b"],
    [{ a: 0 }, { a: -0 }, "a"],
    [{ a: 1, b: undefined }, { a: 1 }, null],
    [{ a: null }, {}, null],
    [[1], [1, 2], "1"],
    [{ a: [] }, { a: {} }, "a"],
    [{ x: 1, y: 2 }, { y: 2, x: 1 }, null],
  ])("%j and %j: %j", (a, b, at) => expect(firstDifference(a, b)).toBe(at));
});

test("what has not changed stays the same object, so that nothing is drawn again for nothing", () => {
  const { receive, work } = engine();
  receive({ open: campaign, number: 1 });
  const [first] = outcomes(work()) as [Outcome];
  const longer = (row: number) => ({ cell: { table: "separation", row, column: "fibre_mm", text: "210" } });
  receive({ edits: [longer(4), longer(5)], number: 2 });
  const [second] = outcomes(work()) as [Outcome];
  const now = kept(first, second);
  expect(now).toEqual(second);
  expect(now.input).not.toBe(first.input);
  expect([now.quantities, now.stages, now.rows]).toEqual([first.quantities, first.stages, first.rows]);
  expect(now.quantities).toBe(first.quantities);
  expect(now.rows).toBe(first.rows);
  receive({ edits: [blue(4, "11.05")], number: 3 });
  const [third] = outcomes(work()) as [Outcome];
  const then = kept(now, third);
  expect(then).toEqual(third);
  expect(then.quantities).not.toBe(now.quantities);
  expect(kept(then, structuredClone(then))).toBe(then);
});
