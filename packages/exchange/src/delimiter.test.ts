import { describe, expect, test } from "vitest";
import { findDelimiter, headerWidth } from "./delimiter.ts";

const known = new Set(["reading", "condition", "role", "note", "signal_blue"]);
const find = (text: string) => findDelimiter(text, (name) => known.has(name));

describe("the delimiter is found", () => {
  test.each([
    [",", "reading,condition\ns1,min"],
    [";", "reading;condition\ns1;min"],
    ["\t", "reading\tcondition\ns1\tmin"],
    [";", "reading;condition;signal_blue\ns1;min;6,500"],
    ["\t", "reading\tcondition\tsignal_blue\ns1\tmin\t6,500"],
    [",", 'reading,condition,note\ns1,min,"a; b; c"'],
    [";", "reading;condition;dose, in Gy;note\ns1;min;1;x"],
    [",", "id,place\na,b"],
    [",", "reading,condition"],
    [",", '"reading","condition"\n"s1","min"'],
    [";", "reading ; condition\ns1;min"],
  ])("%j in %j", (delimiter, text) => {
    expect(find(text)).toBe(delimiter);
  });

  test("from the known names, though a row is ragged under it", () => {
    expect(find("reading,condition,role;note\ns1,min\ns2,max,fit;x")).toBe(",");
  });

  test("from the regular rows, where no name is known", () => {
    expect(find("a,b;c\n1;2\n3;4")).toBe(";");
  });

  test("though blank lines stand between the rows", () => {
    expect(find("a,b;c\n1;2\n\n3;4\n")).toBe(";");
  });
});

test.each(["reading condition role", "reading|condition", "reading", "", "\n"])("in %j there is none", (text) => {
  expect(find(text)).toEqual([]);
});

test("where two fit equally well no guess is made", () => {
  expect(find("a,b;c\n")).toEqual([",", ";"]);
  expect(find("reading,x;condition\n1,2;3")).toEqual([",", ";"]);
});

test("the width of a header is the number of its cells", () => {
  expect(headerWidth('a,"b,c",d\n1', ",")).toBe(3);
  expect(headerWidth("a,b", ";")).toBe(1);
  expect(headerWidth("", ",")).toBe(0);
});
