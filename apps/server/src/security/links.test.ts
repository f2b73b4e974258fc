import { describe, expect, it } from "vitest";
import { LINK_LIFE_ms, Links } from "./links.ts";

function atNine() {
  let time = 9;
  const links = new Links(() => time);
  const wait = (ms: number) => {
    time += ms;
  };
  return { links, wait };
}
const done = async () => Promise.resolve("done");

describe("a link", () => {
  it("works once, also for two at the same time", async () => {
    const { links } = atNine();
    const { token } = links.create();
    const both = await Promise.allSettled([links.spend(token, "a", done), links.spend(token, "b", done)]);
    expect(both.map(({ status }) => status)).toEqual(["fulfilled", "rejected"]);
    await expect(links.spend(token, "a", done)).rejects.toThrow("used already");
  });

  it("is good again when the work behind it fails", async () => {
    const { links } = atNine();
    const { token } = links.create();
    await expect(links.spend(token, "a", async () => Promise.reject(new Error("full")))).rejects.toThrow("full");
    expect(await links.spend(token, "a", done)).toBe("done");
  });

  it("lives a day", async () => {
    const { links, wait } = atNine();
    const { token, until } = links.create();
    expect(until).toBe(9 + LINK_LIFE_ms);
    wait(LINK_LIFE_ms);
    const second = links.create({ id: "b", name: "B" });
    wait(1);
    await expect(links.spend(token, "a", done)).rejects.toThrow("older than a day");
    expect(await links.spend(second.token, "b", done)).toBe("done");
  });

  it("for one person takes no other, and ends with the next one for the same", async () => {
    const { links } = atNine();
    const first = links.create({ id: "b", name: "B" });
    await expect(links.spend(first.token, "a", done)).rejects.toThrow("made for b");
    links.create({ id: "b", name: "B" });
    await expect(links.spend(first.token, "b", done)).rejects.toThrow("used already");
  });
});
