import { simulate, standardLaboratory, withRepeats } from "@alcedo-dosimetry/simulator";
import { describe, expect, test } from "vitest";
import { back, correcting, EMPTY, type Entry, entered } from "./entry.ts";
import { entryFields } from "./next-reading.ts";

const { campaign } = simulate(withRepeats(standardLaboratory(), 2), 1);
const at = { series: "background", condition: "before" } as const;
const fields = entryFields(campaign, "background");
const type = (entry: Entry, text: string): Entry => ({
  ...entry,
  texts: { ...entry.texts, [fields[entry.field]!.column]: text },
});
const going = (outcome: ReturnType<typeof entered>) => ("goes" in outcome ? outcome.goes : undefined);

describe("Enter", () => {
  test("goes on to the next channel, and after the last one the reading is whole, as typed", () => {
    const second = going(entered(type(EMPTY, "0.0364"), fields, "."))!;
    expect(second.field).toBe(1);
    const outcome = entered(type(second, "0.0190"), fields, ".");
    expect("whole" in outcome && [...outcome.whole]).toEqual([
      ["signal_blue", "0.0364"],
      ["signal_green", "0.0190"],
    ]);
  });

  test("takes the other decimal sign for that of the table", () => {
    expect(going(entered(type(EMPTY, "0,0364"), fields, "."))!.texts["signal_blue"]).toBe("0.0364");
    expect(going(entered(type(EMPTY, "0.0364"), fields, ","))!.texts["signal_blue"]).toBe("0,0364");
  });

  test.each(["", "  "])("on %j stays and says what is wanted", (text) =>
    expect(going(entered(type(EMPTY, text), fields, "."))).toMatchObject({
      field: 0,
      fault: "blue is still empty: type what the reader shows.",
    }),
  );

  test.each(["1.2.3", "12a", "1 234", "--1"])("on %s stays and says that it is no number", (text) =>
    expect(going(entered(type(EMPTY, text), fields, "."))).toMatchObject({
      field: 0,
      fault: expect.stringContaining("is no number") as string,
    }),
  );

  test("forgets the complaint once the field is right", () => {
    const wrong = going(entered(type(EMPTY, "x"), fields, "."))!;
    expect(going(entered(type(wrong, "1"), fields, "."))).not.toHaveProperty("fault");
  });

  test("at the end goes to a field that was passed over", () => {
    expect(going(entered(type({ ...EMPTY, field: 1 }, "1"), fields, "."))).toMatchObject({
      field: 0,
      fault: "blue is still missing.",
    });
  });
});

describe("Backspace on nothing", () => {
  test("goes to the field before, with what stands there", () => {
    const second = going(entered(type(EMPTY, "0.0364"), fields, "."))!;
    expect(back(second, fields, campaign, at, "b001")).toEqual({ texts: { signal_blue: "0.0364" }, field: 0 });
  });

  test("at the first field opens the last reading with its texts", () => {
    const opened = back(EMPTY, fields, campaign, at, "b001");
    expect(opened).toMatchObject({ corrects: "b001", field: 1 });
    expect(Object.keys(opened.texts)).toEqual(["signal_blue", "signal_green"]);
    expect(opened.texts["signal_blue"]).toMatch(/^0\.0\d+$/);
  });

  test("does nothing where there is nothing to correct, or it is being corrected", () => {
    expect(back(EMPTY, fields, campaign, at, undefined)).toBe(EMPTY);
    const opened = { ...EMPTY, corrects: "b001" };
    expect(back(opened, fields, campaign, at, "b001")).toBe(opened);
  });

  test("opens nothing of a reading that somebody has taken out", () => {
    expect(correcting(fields, campaign, at, "b099")).toBeUndefined();
    expect(back(EMPTY, fields, campaign, at, "b099")).toBe(EMPTY);
  });
});
