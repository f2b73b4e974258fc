import { afterEach, expect, test, vi } from "vitest";

afterEach(() => vi.unstubAllGlobals());

/** The settings of a browser that holds such a text, or none. */
async function settingsIn(text: string | null | (() => never)) {
  vi.resetModules();
  vi.stubGlobal("localStorage", { getItem: () => (typeof text === "function" ? text() : text) });
  return import("./settings.ts");
}

test.each([
  ['{"theme":"dark","decimal":","}', { theme: "dark", decimal: "," }],
  ['{"theme":"pink","decimal":"x"}', { theme: "system", decimal: "." }],
  ["[", { theme: "system", decimal: "." }],
  ["null", { theme: "system", decimal: "." }],
  [null, { theme: "system", decimal: "." }],
])("a browser that holds %j has %j", async (text, expected) => {
  const { settingsOf } = await settingsIn(text);
  let stored: unknown;
  try {
    stored = JSON.parse(text ?? "{}");
  } catch {
    stored = undefined; // what is no JSON is as good as nothing
  }
  expect(settingsOf(stored)).toEqual(expected);
});

test("a browser that closes its storage to the page begins as for a new person", async () => {
  await expect(
    settingsIn(() => {
      throw new Error("the storage is closed");
    }),
  ).resolves.toBeDefined();
});
