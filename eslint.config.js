/** What the compiler cannot see. Formatting and plain lint are biome's; boundaries are in .dependency-cruiser.mjs. */
import { defineConfig, globalIgnores } from "eslint/config";
import tseslint from "typescript-eslint";

/** Exact by the language's specification in every engine, the constants included. */
const exactMath = "sqrt|abs|floor|min|max|imul|ceil|trunc|round|sign|PI|E|LN2|LN10|LOG2E|LOG10E|SQRT2|SQRT1_2";

const useSpecial = "differs between engines: take it from packages/metrology/src/special.ts";
const noHost = "the pure packages know no clock, no host and no asynchrony: hand the value in from outside";

const hostNames = [
  ...["Date", "performance", "setTimeout", "setInterval", "setImmediate", "queueMicrotask", "requestAnimationFrame"],
  ...["process", "Buffer", "require", "console", "globalThis", "global", "self", "window", "document", "navigator"],
  ...["fetch", "crypto", "localStorage", "Promise", "Worker", "SharedArrayBuffer", "Atomics"],
];

const restrictedGlobals = [
  ...hostNames.map((name) => ({ name, message: `${name}: ${noHost}.` })),
  { name: "Intl", message: "The result depends on the reader's locale: write the format out." },
  { name: "eval", message: "No code is made at run time." },
  { name: "Function", message: "No code is made at run time." },
];

const notAsync = [
  { selector: ":function[async=true]", message: `async: ${noHost}.` },
  { selector: "AwaitExpression, ForOfStatement[await=true], ImportExpression", message: `await: ${noHost}.` },
];

const notExact = [
  {
    selector: `Identifier[name='Math']:not(MemberExpression[computed=false][property.name=/^(${exactMath})$/] > Identifier.object)`,
    message: `Only ${exactMath.replaceAll("|", ", ")} of Math are exact; any other ${useSpecial}.`,
  },
  {
    selector: ":matches(BinaryExpression[operator='**'], AssignmentExpression[operator='**='])",
    message: `** ${useSpecial}.`,
  },
  {
    selector: "MemberExpression[property.name=/^(toLocale\\w*|localeCompare)$/]",
    message: "The result depends on the reader's locale: write the format out.",
  },
];

const fullPath = {
  selector:
    ":matches(ImportDeclaration, ExportNamedDeclaration, ExportAllDeclaration)[source.value=/^\\.(?!.*\\.(ts|tsx|js|mjs|json|css)$)/]",
  message: "Write the file's ending: ./tape.ts",
};

export default defineConfig(
  globalIgnores(["**/dist/", "**/.cache/", "**/coverage/", "examples/"]),
  {
    files: ["**/*.ts", "**/*.tsx"],
    extends: [tseslint.configs.recommendedTypeChecked],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    linterOptions: { reportUnusedDisableDirectives: "error" },
    rules: {
      // Index arithmetic in numerics reads better with `!`.
      "@typescript-eslint/no-non-null-assertion": "off",
      "@typescript-eslint/restrict-template-expressions": ["error", { allowNumber: true, allowBoolean: true }],
      "@typescript-eslint/no-unused-vars": ["error", { argsIgnorePattern: "^_", ignoreRestSiblings: true }],
      // A forgotten case of a union is a wrong number later.
      "@typescript-eslint/switch-exhaustiveness-check": ["error", { considerDefaultExhaustiveForUnions: true }],
      "@typescript-eslint/no-unnecessary-condition": ["error", { allowConstantLoopConditions: true }],
      "@typescript-eslint/prefer-nullish-coalescing": ["error", { ignorePrimitives: { boolean: true } }],
      "@typescript-eslint/no-unnecessary-boolean-literal-compare": "error",
      "@typescript-eslint/no-confusing-void-expression": ["error", { ignoreArrowShorthand: true }],
      "@typescript-eslint/require-array-sort-compare": ["error", { ignoreStringArrays: true }],
      "@typescript-eslint/no-deprecated": "error",
      "@typescript-eslint/use-unknown-in-catch-callback-variable": "error",
      "@typescript-eslint/no-mixed-enums": "error",
      "@typescript-eslint/consistent-type-exports": "error",
      "@typescript-eslint/return-await": "error",
      // Swallowed errors and silent slips.
      "no-empty": "error",
      "no-loss-of-precision": "error",
      "no-constant-binary-expression": "error",
      "no-self-compare": "error",
      "no-unreachable-loop": "error",
      "no-template-curly-in-string": "error",
      "no-promise-executor-return": "error",
      "array-callback-return": "error",
      eqeqeq: "error",
      "no-eval": "error",
      "no-implied-eval": "off",
      "@typescript-eslint/no-implied-eval": "error",
      "max-lines": ["error", { max: 600 }],
      "no-restricted-syntax": ["error", fullPath],
    },
  },
  {
    // Reference values are copied with all the digits of their source.
    files: ["**/*.test.ts"],
    rules: { "no-loss-of-precision": "off" },
  },
  {
    // The pure packages: same input, same output, to the last bit, everywhere.
    files: ["packages/*/src/**/*.ts"],
    ignores: ["**/*.test.ts", "**/testing/*.ts"],
    // An exception is named in this file, with its reason, or it is none.
    linterOptions: { noInlineConfig: true },
    rules: {
      "no-restricted-syntax": ["error", fullPath, ...notExact, ...notAsync],
      "no-restricted-globals": ["error", ...restrictedGlobals],
      "no-restricted-imports": [
        "error",
        {
          patterns: [
            { group: ["@stdlib/*"], message: "Use packages/metrology/src/special.ts or distributions.ts." },
            { group: ["node:*", "fs", "path", "crypto", "os", "child_process"], message: `Node's modules: ${noHost}.` },
          ],
        },
      ],
    },
  },
  {
    // Exception: these two are the one door to the special functions and distributions of @stdlib.
    files: ["packages/metrology/src/special.ts", "packages/metrology/src/distributions.ts"],
    rules: { "no-restricted-imports": "off" },
  },
  {
    // Exception: the second route and the virtual laboratory share no code with the first, not even its special functions.
    files: ["packages/recheck/src/special.ts", "packages/simulator/src/special.ts"],
    rules: { "no-restricted-imports": "off" },
  },
  {
    // Exception: the archive waits for its database, which may stand in another machine.
    files: ["packages/archive/src/**/*.ts"],
    ignores: ["**/*.test.ts", "**/testing/*.ts"],
    rules: {
      "no-restricted-syntax": ["error", fullPath, ...notExact],
      "no-restricted-globals": ["error", ...restrictedGlobals.filter(({ name }) => name !== "Promise")],
    },
  },
  {
    // Exception: this file is the archive's way to the disk.
    files: ["packages/archive/src/folder/disk.ts"],
    rules: { "no-restricted-imports": "off" },
  },
  {
    // Exception: this file makes people's keys with Node's cryptography; bytes are Node's there.
    files: ["packages/archive/src/folder/personal-key.ts"],
    rules: { "no-restricted-imports": "off", "no-restricted-globals": "off" },
  },
);
