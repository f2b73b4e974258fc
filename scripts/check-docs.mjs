/**
 * Every exported declaration of the packages and the applications carries a doc comment that says something.
 * Tests are exempt, and so are re-exports: the comment belongs where the name is declared.
 */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { root } from "./setup.mjs";

/**
 * The exported names of a file that lack a doc comment, a line each.
 * @param {string} text
 * @param {string} file
 */
export function undocumented(text, file) {
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
  const described = new Set(); // overloads share the first one's comment
  return source.statements.flatMap((statement) => {
    const exported =
      isExported(statement) || (ts.isExportAssignment(statement) && !ts.isIdentifier(statement.expression));
    if (!exported) return [];
    const name = nameOf(statement);
    if (isDescribed(statement) || described.has(name)) {
      described.add(name);
      return [];
    }
    const { line } = source.getLineAndCharacterOfPosition(statement.getStart());
    return [`${file}:${line + 1}: ${name} has no doc comment`];
  });
}

/** @param {ts.Statement} statement */
function isExported(statement) {
  const modifiers = ts.canHaveModifiers(statement) ? ts.getModifiers(statement) : undefined;
  return modifiers?.some((modifier) => modifier.kind === ts.SyntaxKind.ExportKeyword) ?? false;
}

/** @param {ts.Node} node */
function isDescribed(node) {
  return ts.getJSDocCommentsAndTags(node).some((doc) => {
    if (!ts.isJSDoc(doc)) return false;
    return (ts.getTextOfJSDocComment(doc.comment) ?? "").trim() !== "";
  });
}

/** @param {ts.Statement} statement */
function nameOf(statement) {
  if (ts.isVariableStatement(statement)) {
    return statement.declarationList.declarations.map((declaration) => declaration.name.getText()).join(", ");
  }
  const name = /** @type {{ name?: ts.Node }} */ (/** @type {unknown} */ (statement)).name;
  return name?.getText() ?? "the default export";
}

function main() {
  const problems = ["packages", "apps"]
    .flatMap((group) => readdirSync(join(root, group)).map((name) => `${group}/${name}/src`))
    .filter((folder) => existsSync(join(root, folder)))
    .flatMap((folder) =>
      readdirSync(join(root, folder), { recursive: true }).map(
        (path) => `${folder}/${String(path).replaceAll("\\", "/")}`,
      ),
    )
    .filter((path) => /\.tsx?$/.test(path) && !/\.test\.tsx?$/.test(path))
    .sort()
    .flatMap((path) => undocumented(readFileSync(join(root, path), "utf8"), path));
  for (const problem of problems) console.error(problem);
  console.log(`${problems.length} exported declarations without a doc comment`);
  process.exitCode = problems.length > 0 ? 1 : 0;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) main();
