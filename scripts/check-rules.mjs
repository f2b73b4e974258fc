/**
 * One rule, one id, one test. Every rule of a `packages/NAME/SPEC.md` (`- **DIST-1** ...`) is proved by at least one
 * test of that package whose title begins with `DIST-1:`; every id in a title is a rule; every id is written once.
 */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { root } from "./setup.mjs";

/**
 * @typedef {{ id: string, at: string }} Rule an id and where it stands (`file:line`)
 * @typedef {{ title: string, at: string }} Title of a test that runs, and where it stands
 */

/**
 * The rules of a specification.
 * @param {string} text
 * @param {string} file
 * @returns {Rule[]}
 */
export function rulesOf(text, file) {
  return text.split("\n").flatMap((line, index) => {
    const id = /^- \*\*([A-Z][A-Z0-9]*-[A-Z]?\d+)\*\*/.exec(line)?.[1];
    return id === undefined ? [] : [{ id, at: `${file}:${index + 1}` }];
  });
}

/**
 * The titles of the tests in a file, of `it` and `test` in every form but `skip`, `todo` and `fails`.
 * @param {string} text
 * @param {string} file
 * @returns {Title[]}
 */
export function titlesOf(text, file) {
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
  /** @type {Title[]} */
  const titles = [];
  const visit = (/** @type {ts.Node} */ node) => {
    if (ts.isCallExpression(node) && runsTest(node.expression)) {
      const title = node.arguments[0];
      if (title !== undefined && (ts.isStringLiteralLike(title) || ts.isTemplateExpression(title))) {
        const { line } = source.getLineAndCharacterOfPosition(title.getStart());
        titles.push({
          title: ts.isTemplateExpression(title) ? title.head.text : title.text,
          at: `${file}:${line + 1}`,
        });
      }
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  return titles;
}

/**
 * Whether a callee is `it`, `test`, `it.each(...)`, `test.concurrent` and so on.
 * @param {ts.Expression} callee
 * @returns {boolean}
 */
function runsTest(callee) {
  if (ts.isIdentifier(callee)) return callee.text === "it" || callee.text === "test";
  if (ts.isCallExpression(callee)) return runsTest(callee.expression);
  if (ts.isTaggedTemplateExpression(callee)) return runsTest(callee.tag);
  if (!ts.isPropertyAccessExpression(callee)) return false;
  return !["skip", "todo", "fails"].includes(callee.name.text) && runsTest(callee.expression);
}

/**
 * What is wrong between one package's rules and its tests, a line each.
 * @param {Rule[]} rules
 * @param {Title[]} titles
 */
export function ruleProblems(rules, titles) {
  const proved = titles.flatMap(({ title, at }) => {
    const [, id, colon] = /^([A-Z][A-Z0-9]*-[A-Z]?\d+)(:?)/.exec(title) ?? [];
    return id === undefined ? [] : [{ id, at, colon }];
  });
  const ids = new Set(rules.map((rule) => rule.id));
  const problems = [];
  for (const { id, at } of rules) {
    if (!proved.some((test) => test.id === id && test.colon === ":"))
      problems.push(`${at}: rule ${id} has no test; begin a test's title with "${id}: "`);
  }
  for (const { id, at, colon } of proved) {
    if (ids.has(id) && colon !== ":")
      problems.push(`${at}: write "${id}: " with a colon, or the test does not count for the rule`);
    if (!ids.has(id) && colon === ":")
      problems.push(`${at}: the title names rule ${id}, which is not in the package's SPEC.md`);
  }
  return problems;
}

/**
 * Ids written twice, in one package or two.
 * @param {Rule[]} rules of all packages
 */
export function repeatedRules(rules) {
  const first = new Map();
  return rules.flatMap(({ id, at }) => {
    if (!first.has(id)) {
      first.set(id, at);
      return [];
    }
    return [`${at}: rule ${id} is already written in ${first.get(id)}`];
  });
}

function main() {
  const problems = [];
  const all = [];
  for (const name of readdirSync(join(root, "packages")).sort()) {
    const spec = `packages/${name}/SPEC.md`;
    const rules = existsSync(join(root, spec)) ? rulesOf(readFileSync(join(root, spec), "utf8"), spec) : [];
    const titles = testFiles(`packages/${name}/src`).flatMap((file) =>
      titlesOf(readFileSync(join(root, file), "utf8"), file),
    );
    if (existsSync(join(root, spec)) && rules.length === 0)
      problems.push(`${spec}: no rule found; a rule is a line "- **ABC-1** ..."`);
    problems.push(...ruleProblems(rules, titles));
    all.push(...rules);
  }
  problems.push(...repeatedRules(all));
  for (const problem of problems) console.error(problem);
  console.log(`${all.length} rules, ${problems.length} problems`);
  process.exitCode = problems.length > 0 ? 1 : 0;
}

/** @param {string} folder from the root */
function testFiles(folder) {
  if (!existsSync(join(root, folder))) return [];
  return readdirSync(join(root, folder), { recursive: true })
    .map((path) => `${folder}/${String(path).replaceAll("\\", "/")}`)
    .filter((path) => path.endsWith(".test.ts"))
    .sort();
}

if (process.argv[1] === fileURLToPath(import.meta.url)) main();
