import { describe, expect, it } from "vitest";
import { isLoopback, LOOPBACK_NAMES, requireKnownHost } from "./hosts.ts";

describe("names of the server", () => {
  it("are those that are listed, with any port, in any case of letters", () => {
    for (const host of ["127.0.0.1", "127.0.0.1:1", "localhost:65535", "LocalHost", "[::1]:4270", "[::1]"])
      expect(() => requireKnownHost(host, LOOPBACK_NAMES)).not.toThrow();
  });

  it("are no others, and none is none", () => {
    for (const host of [
      undefined,
      "",
      ":4270",
      "evil.example",
      "localhost.evil.example",
      "localhost:x",
      "localhost:4270:1",
      "a@localhost",
      "::1",
      "[::1",
      "127.0.0.1 ",
      "0.0.0.0",
    ])
      expect(() => requireKnownHost(host, LOOPBACK_NAMES)).toThrow("not called");
  });
});

describe("loopback", () => {
  it("is what reaches no further than this machine", () => {
    for (const host of ["127.0.0.1", "127.8.9.10", "localhost", "::1", "[::1]"])
      expect([host, isLoopback(host)]).toEqual([host, true]);
    for (const host of ["0.0.0.0", "::", "192.168.1.2", "127.0.0.1.example", "alcedo.example", ""])
      expect([host, isLoopback(host)]).toEqual([host, false]);
  });
});
