import { describe, expect, it } from "vitest";
import { IDLE_END_ms, LONGEST_ms } from "./security/logins.ts";
import { PASSPHRASE, testServer } from "./testing/test-server.ts";

const person = (id: string, token: string) => ({ token, id, name: `Person ${id}`, passphrase: PASSPHRASE });

describe("the first person", () => {
  it("comes by a link, once, is logged in by a cookie that no script and no other site gets, and is known", async () => {
    const server = await testServer();
    const { token } = server.links.create();
    const answer = await server.ask("POST", "/api/first", { body: person("j.doe", token) });
    expect([answer.statusCode, answer.json()]).toEqual([200, { person: { id: "j.doe", name: "Person j.doe" } }]);
    expect(answer.headers["set-cookie"]).toMatch(/^alcedo=[\w-]{43}; Path=\/; HttpOnly; SameSite=Strict$/);
    const again = await server.ask("POST", "/api/first", { body: person("x", token) });
    expect([again.statusCode, again.json<{ type: string }>().type]).toEqual([401, "urn:alcedo:problem:link-spent"]);
    const cookie = String(answer.headers["set-cookie"]).split(";")[0]!;
    expect((await server.ask("GET", "/api/people", { cookie })).json()).toEqual([
      { id: "j.doe", name: "Person j.doe" },
    ]);
  });

  it("does not use the link up with a passphrase that is refused", async () => {
    const server = await testServer();
    const { token } = server.links.create();
    const short = await server.ask("POST", "/api/first", { body: { ...person("j.doe", token), passphrase: "short" } });
    expect(short.statusCode).toBe(422);
    expect(short.json<{ detail: string }>().detail).toContain("passphrase: must have at least 12 characters");
    expect((await server.ask("POST", "/api/first", { body: person("j.doe", token) })).statusCode).toBe(200);
  });

  it("cannot come a day later", async () => {
    const server = await testServer();
    const { token } = server.links.create();
    server.wait(25 * 3_600_000);
    expect((await server.ask("POST", "/api/first", { body: person("j.doe", token) })).statusCode).toBe(401);
  });
});

describe("an invitation", () => {
  it("is a link for one person, and works once", async () => {
    const server = await testServer();
    const cookie = await server.login();
    const invited = await server.ask("POST", "/api/people", { cookie, body: { id: "a.roe", name: "A. Roe" } });
    const { link } = invited.json<{ link: string }>();
    expect(link).toMatch(/^http:\/\/127\.0\.0\.1:4270\/#\/first\/[\w-]{43}$/);
    const token = link.split("/").at(-1)!;
    const other = await server.ask("POST", "/api/first", { body: person("m.moe", token) });
    expect([other.statusCode, other.json<{ detail: string }>().detail]).toEqual([403, "The link was made for a.roe."]);
    expect((await server.ask("POST", "/api/first", { body: person("a.roe", token) })).statusCode).toBe(200);
    const twice = await server.ask("POST", "/api/people", { cookie, body: { id: "a.roe", name: "A. Roe" } });
    expect(twice.statusCode).toBe(409);
  });
});

describe("a login", () => {
  it("is begun with the passphrase and ended with a word", async () => {
    const server = await testServer();
    const first = await server.login();
    await server.ask("POST", "/api/logout", { cookie: first });
    expect((await server.ask("GET", "/api/me", { cookie: first })).statusCode).toBe(401);
    const wrong = await server.ask("POST", "/api/login", { body: { id: "j.doe", passphrase: "another one" } });
    const nobody = await server.ask("POST", "/api/login", { body: { id: "n.body", passphrase: PASSPHRASE } });
    expect([wrong.statusCode, wrong.headers["set-cookie"]]).toEqual([401, undefined]);
    expect(nobody.json()).toEqual(wrong.json()); // who is there is not told
    const right = await server.ask("POST", "/api/login", { body: { id: "j.doe", passphrase: PASSPHRASE } });
    const cookie = String(right.headers["set-cookie"]).split(";")[0]!;
    expect((await server.ask("GET", "/api/me", { cookie })).json()).toEqual({
      person: { id: "j.doe", name: "Person j.doe" },
    });
    expect(cookie).not.toBe(first);
    const out = await server.ask("POST", "/api/logout", { cookie });
    expect([out.statusCode, out.body]).toEqual([204, ""]);
  });

  it("ends by itself when nobody asks anything, and after a week in any case", async () => {
    const server = await testServer();
    const cookie = await server.login();
    const isIn = async () => (await server.ask("GET", "/api/me", { cookie })).statusCode === 200;
    for (let gone = 0; gone + IDLE_END_ms < LONGEST_ms; gone += IDLE_END_ms - 1) {
      expect(await isIn()).toBe(true);
      server.wait(IDLE_END_ms - 1);
    }
    server.wait(IDLE_END_ms);
    expect(await isIn()).toBe(false);
    const second = await server.login("a.roe");
    server.wait(IDLE_END_ms + 1);
    expect((await server.ask("GET", "/api/me", { cookie: second })).statusCode).toBe(401);
  });

  it("cannot be guessed: behind five wrong passphrases one waits, longer each time, and even the right one is not looked at", async () => {
    const server = await testServer();
    await server.login();
    const tryOne = async (passphrase: string) =>
      server.ask("POST", "/api/login", { body: { id: "j.doe", passphrase } });
    for (let number = 0; number < 5; number++) expect((await tryOne(`guess ${number}`)).statusCode).toBe(401);
    const locked = await tryOne(PASSPHRASE);
    expect([locked.statusCode, locked.headers["retry-after"]]).toEqual([429, "30"]);
    server.wait(31_000);
    expect((await tryOne("guess 6")).statusCode).toBe(401);
    server.wait(31_000);
    expect((await tryOne(PASSPHRASE)).statusCode).toBe(429);
    server.wait(30_000);
    expect((await tryOne(PASSPHRASE)).statusCode).toBe(200);
    // a right one makes good again
    for (let number = 0; number < 5; number++) expect((await tryOne(`guess ${number}`)).statusCode).toBe(401);
  });

  it("cannot be guessed with many requests at once either", async () => {
    const server = await testServer();
    await server.login();
    const guess = async (number: number) =>
      (await server.ask("POST", "/api/login", { body: { id: "j.doe", passphrase: `guess ${number}` } })).statusCode;
    const answers = await Promise.all(Array.from({ length: 20 }, async (_, number) => guess(number)));
    expect(answers.filter((status) => status === 401).length).toBe(5);
    expect(answers.filter((status) => status === 429).length).toBe(15);
  });

  it("and a one-time link are asked for a few times a minute, by each address", async () => {
    const server = await testServer();
    const token = "a".repeat(43);
    const answers: number[] = [];
    for (let number = 0; number < 12; number++)
      answers.push((await server.ask("POST", "/api/first", { body: person("j.doe", token) })).statusCode);
    expect(answers).toEqual([...Array.from({ length: 10 }, () => 401), 429, 429]);
  });
});
