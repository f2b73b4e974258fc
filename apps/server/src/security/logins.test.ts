import { expect, it } from "vitest";
import { IDLE_END_ms, Logins } from "./logins.ts";

const person = { id: "j.doe", name: "J. Doe" };
function atNine() {
  let time = 9;
  const logins = new Logins(() => time);
  const wait = (ms: number) => {
    time += ms;
  };
  return { logins, wait };
}

it("a login is found by its token, and by no other", () => {
  const { logins } = atNine();
  const [one, two] = [logins.begin(person), logins.begin(person)];
  expect(one).not.toBe(two);
  expect(logins.find(one)?.person).toBe(person);
  for (const token of [undefined, "", `${one} `, one.slice(1)]) expect(logins.find(token)).toBeUndefined();
});

it("what is open for a login is told when it ends: by a word, by idleness, or because the server stops", () => {
  const { logins, wait } = atNine();
  const tokens = [logins.begin(person), logins.begin(person), logins.begin(person)];
  const ended = tokens.map((token) => logins.find(token)!.ended);
  logins.end(tokens[0]);
  expect(ended.map(({ aborted }) => aborted)).toEqual([true, false, false]);
  wait(IDLE_END_ms);
  logins.find(tokens[1]);
  wait(1);
  logins.begin(person); // whoever comes clears what is idle
  expect(ended.map(({ aborted }) => aborted)).toEqual([true, false, true]);
  logins.endAll();
  expect([ended[1]!.aborted, logins.size]).toEqual([true, 0]);
});
