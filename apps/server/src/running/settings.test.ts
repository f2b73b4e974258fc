import { homedir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { DEFAULT_PORT, settingsFrom } from "./settings.ts";

describe("settings", () => {
  it("are this machine alone, and a folder in the person's own, where nothing is said", () => {
    expect(settingsFrom({})).toEqual({
      ...{ home: join(homedir(), "alcedo"), host: "127.0.0.1", port: DEFAULT_PORT },
      hosts: ["127.0.0.1", "localhost", "[::1]"],
    });
    expect(settingsFrom({ HOST: " ", PORT: "", ALCEDO_HOME: "" })).toEqual(settingsFrom({}));
  });

  it("take port and folder from the environment", () => {
    expect(settingsFrom({ PORT: "0", ALCEDO_HOME: "/data/alcedo" })).toMatchObject({ port: 0, home: "/data/alcedo" });
    for (const PORT of ["65536", "-1", "4e3", "x"])
      expect(() => settingsFrom({ PORT })).toThrow(`PORT=${PORT} is no port`);
  });

  it("refuse an address that others reach unless somebody sees to the encryption, and say how", () => {
    for (const HOST of ["0.0.0.0", "::", "192.168.1.2", "alcedo.example"]) {
      expect(() => settingsFrom({ HOST })).toThrow(/unencrypted.*ALCEDO_URL.*ALCEDO_TLS_KEY.*ALCEDO_PROXY/);
      expect(() => settingsFrom({ HOST, ALCEDO_URL: "https://alcedo.example" })).toThrow("unencrypted");
      expect(() => settingsFrom({ HOST, ALCEDO_PROXY: "10.0.0.1" })).toThrow("unencrypted");
    }
    const tls = { ALCEDO_TLS_KEY: "/k.pem", ALCEDO_TLS_CERT: "/c.pem" };
    const ALCEDO_URL = "https://alcedo.example:8443/";
    expect(settingsFrom({ HOST: "0.0.0.0", ALCEDO_URL, ...tls })).toMatchObject({
      ...{ url: "https://alcedo.example:8443", tls: { key: "/k.pem", cert: "/c.pem" } },
      hosts: ["127.0.0.1", "localhost", "[::1]", "alcedo.example"],
    });
    expect(settingsFrom({ HOST: "0.0.0.0", ALCEDO_URL, ALCEDO_PROXY: "10.0.0.1" })).toMatchObject({
      proxy: "10.0.0.1",
    });
    expect(() => settingsFrom({ ALCEDO_TLS_KEY: "/k.pem" })).toThrow("belong together");
  });

  it("take an address for people that is https, and nothing behind it", () => {
    for (const ALCEDO_URL of [
      "http://alcedo.example",
      "alcedo.example",
      "https://alcedo.example/x",
      "https://a:b@alcedo.example",
      "https://alcedo.example/?x",
    ])
      expect(() => settingsFrom({ ALCEDO_URL })).toThrow("https://alcedo.example, without a path");
  });
});
