import { afterEach, describe, expect, test, vi } from "vitest";
import { keyGroups, lineFor, nameOf, printed, registerKeys, watchKeys } from "./key-registry.ts";

const off: (() => void)[] = [];
const register = (...given: Parameters<typeof registerKeys>) => off.push(registerKeys(...given));
afterEach(() => {
  for (const one of off.splice(0)) one();
  expect(keyGroups()).toEqual([]);
});

describe("the list of keys", () => {
  test("holds the keys of each part while it is open, and no longer", () => {
    const stop = registerKeys({ title: "Learn", lines: [{ press: "r", does: "read again", run: () => undefined }] });
    expect(keyGroups().map(({ title }) => title)).toEqual(["Learn"]);
    expect(lineFor({ key: "r" }, false)?.does).toBe("read again");
    stop();
    expect(keyGroups()).toEqual([]);
    expect(lineFor({ key: "r" }, false)).toBeUndefined();
  });

  test("lets the newest part answer first, and the older one again when it is gone", () => {
    register({ title: "everywhere", lines: [{ press: "Escape", does: "back", run: () => undefined }] });
    const stop = registerKeys({
      title: "console",
      lines: [{ press: "Escape", does: "campaign", run: () => undefined }],
    });
    expect(lineFor({ key: "Escape" }, false)?.does).toBe("campaign");
    stop();
    expect(lineFor({ key: "Escape" }, false)?.does).toBe("back");
  });

  test("lets a page answer before what holds everywhere, whichever came first", () => {
    register({ title: "console", lines: [{ press: "Enter", does: "next", run: () => undefined }] });
    register({ title: "everywhere", everywhere: true, lines: [{ press: "Enter", does: "press what is in focus" }] });
    expect(lineFor({ key: "Enter" }, false)?.does).toBe("next");
  });

  test("leaves letters to fields, but for those that say otherwise", () => {
    register({
      title: "console",
      lines: [
        { press: "x", does: "leave out", run: () => undefined, inFields: true },
        { press: "w", does: "what if", run: () => undefined },
      ],
    });
    expect(lineFor({ key: "w" }, true)).toBeUndefined();
    expect(lineFor({ key: "w" }, false)).toBeDefined();
    expect(lineFor({ key: "x" }, true)).toBeDefined();
  });

  test("leaves to a control what the control does: the line is only told of, and covers an older one", () => {
    register({ title: "page", lines: [{ press: "Enter", does: "open", run: () => undefined }] });
    register({ title: "grid", lines: [{ press: "Enter", does: "edit the cell" }] });
    expect(lineFor({ key: "Enter" }, false)).toBeUndefined();
  });

  test("takes several keys for one thing", () => {
    register({ title: "console", lines: [{ press: "ArrowUp PageUp", does: "before", run: () => undefined }] });
    for (const key of ["ArrowUp", "PageUp"]) expect(lineFor({ key }, false)?.does).toBe("before");
  });

  test("refuses a part that has a key twice", () => {
    expect(() =>
      registerKeys({
        title: "page",
        lines: [
          { press: "a b", does: "one" },
          { press: "b", does: "another" },
        ],
      }),
    ).toThrow("page: the key b is there twice");
  });

  test("tells whoever watches", () => {
    const heard = vi.fn();
    const stop = watchKeys(heard);
    registerKeys({ title: "page", lines: [] })();
    expect(heard).toHaveBeenCalledTimes(2);
    stop();
  });
});

describe("the name of a key", () => {
  test.each([
    [{ key: "?", shiftKey: true }, "?"],
    [{ key: "Z", ctrlKey: true, shiftKey: true }, "Control+z"],
    [{ key: "z", metaKey: true }, "Control+z"],
    [{ key: "Tab", shiftKey: true }, "Shift+Tab"],
    [{ key: "ArrowUp", altKey: true }, "Alt+ArrowUp"],
    [{ key: "x" }, "x"],
  ])("of %j is %s", (pressed, name) => expect(nameOf(pressed)).toBe(name));

  test.each([
    ["Control+z", [["Ctrl", "z"]]],
    ["ArrowUp ArrowDown", [["↑"], ["↓"]]],
    ["+", [["+"]]],
    ["Escape", [["Esc"]]],
  ])("%s is printed %j", (press, expected) => expect(printed(press)).toEqual(expected));
});
