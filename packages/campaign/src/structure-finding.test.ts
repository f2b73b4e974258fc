import { expect, test } from "vitest";
import { STRUCTURE_CODES } from "./structure-codes.ts";
import { structureFinding } from "./structure-finding.ts";

test("a finding takes its level and usual remedy from the registry", () => {
  expect(structureFinding("row-blank", "text.")).toEqual({
    level: "notice",
    code: "row-blank",
    message: "text.",
    remedy: STRUCTURE_CODES["row-blank"].remedy,
  });
});

test("a remedy that knows better comes first; place, effect and facts are kept", () => {
  const details = { remedy: "Do this.", effect: "That.", where: { file: "a.csv" }, facts: { rows: 2 } };
  expect(structureFinding("table-empty", "text.", details)).toEqual({
    level: "error",
    code: "table-empty",
    message: "text.",
    ...details,
  });
});

test.each(Object.entries(STRUCTURE_CODES))(
  "the code %s is in kebab case, and its rule says what it sees and how to mend it",
  (code, rule) => {
    expect(code).toMatch(/^[a-z0-9]+(-[a-z0-9]+)+$/);
    expect(rule.sees).not.toBe("");
    expect(rule.remedy).toMatch(/[.}]$/);
  },
);
