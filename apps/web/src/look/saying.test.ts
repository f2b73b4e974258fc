import { afterEach, expect, test, vi } from "vitest";
import { dismiss, say, sayings, watchSayings } from "./saying.ts";

afterEach(() => {
  for (const { id } of sayings()) dismiss(id);
});

test("what is said is there until it is put away, and watchers hear of both", () => {
  const heard = vi.fn();
  const stop = watchSayings(heard);
  say("kept");
  expect(sayings().map(({ words }) => words)).toEqual(["kept"]);
  dismiss(sayings()[0]!.id);
  expect(sayings()).toEqual([]);
  expect(heard).toHaveBeenCalledTimes(2);
  stop();
  say("kept again");
  expect(heard).toHaveBeenCalledTimes(2);
});

test("three are seen at once, and the same words are not said twice side by side", () => {
  for (const words of ["a", "b", "c", "b", "d"]) say(words);
  expect(sayings().map(({ words }) => words)).toEqual(["c", "b", "d"]);
});

test("the list is the same object until it changes, as whoever watches it needs", () => {
  say("kept");
  expect(sayings()).toBe(sayings());
});

test("a saying carries its way back", () => {
  const go = vi.fn();
  say("left out", { words: "undo", go });
  sayings()[0]!.way!.go();
  expect(go).toHaveBeenCalledOnce();
});
