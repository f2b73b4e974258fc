import { setTimeout as pause } from "node:timers/promises";
import { ROUTES } from "@alcedo-dosimetry/protocol";
import { describe, expect, it } from "vitest";
import { LiveEvents } from "./live-events.ts";
import { inventedCampaign } from "./testing/invented-campaign.ts";
import { HOST, testServer } from "./testing/test-server.ts";

/** What a stream says until it holds a text. */
async function until(reader: ReadableStreamDefaultReader<Uint8Array>, text: string): Promise<string> {
  let said = "";
  while (!said.includes(text)) {
    const { value, done } = await reader.read();
    if (done) throw new Error(`the stream ended at: ${said}`);
    said += new TextDecoder().decode(value);
  }
  return said;
}

async function listening() {
  const server = await testServer({ hosts: ["127.0.0.1"] });
  const cookie = await server.login();
  const address = await server.http.listen({ host: "127.0.0.1", port: 0 });
  const listen = async () => {
    const stop = new AbortController();
    const { body, headers } = await fetch(`${address}${ROUTES.events.path}`, {
      headers: { cookie },
      signal: stop.signal,
    });
    return { reader: body!.getReader(), headers, stop };
  };
  return { server, cookie, listen };
}

describe("live events", () => {
  it("tell every page that listens of a change, and who made it", async () => {
    const { server, cookie, listen } = await listening();
    const [one, two] = [await listen(), await listen()];
    expect(one.headers.get("content-type")).toContain("text/event-stream");
    expect(one.headers.get("content-security-policy")).toContain("default-src 'none'");
    await server.ask("POST", "/api/campaigns", { cookie, body: { campaign: inventedCampaign(), why: "first import" } });
    for (const { reader } of [one, two]) {
      const said = await until(reader, "data:");
      const data = /data: (.*)\n/.exec(said)?.[1] ?? "";
      expect(JSON.parse(data)).toEqual({
        campaign: { id: "invented-fields", revision: expect.any(Number) as number, who: "j.doe", why: "first import" },
      });
    }
    await server.login("a.roe");
    expect(await until(one.reader, "a.roe")).toContain('data: {"people":{"id":"a.roe","name":"Person a.roe"}}');
  });

  it("end with the login", async () => {
    const { server, cookie, listen } = await listening();
    const { reader } = await listen();
    await until(reader, "listening");
    await server.ask("POST", "/api/logout", { cookie });
    expect((await reader.read()).done).toBe(true);
    expect((await fetch(`http://${HOST}/`).catch(() => undefined))?.ok).not.toBe(true);
  });

  it("end when the server stops, and the page's going away is noticed", async () => {
    const { server, listen } = await listening();
    const [one, two] = [await listen(), await listen()];
    expect(server.live.size).toBe(2);
    one.stop.abort();
    for (let wait = 0; wait < 100 && server.live.size > 1; wait++) await pause(20);
    expect(server.live.size).toBe(1);
    await server.close();
    await until(two.reader, "listening");
    expect((await two.reader.read()).done).toBe(true);
  });

  it("let a page go that does not read", () => {
    const live = new LiveEvents();
    const stream = live.listen(new AbortController().signal);
    for (let number = 0; number < 3000; number++)
      live.tell({ campaign: { id: "c", revision: 1, who: "j.doe", why: "x".repeat(500) } });
    expect(stream.destroyed).toBe(true);
    live.close();
  });
});
