// What goes wrong is a code with values. Every code is put into words as each shell speaks.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Command } from 'commander';
import ts from 'typescript';
import { describe, expect, test } from 'vitest';
import { COMMAND_LINE } from '../../src/cli/voice.ts';
import { PAGE } from '../../src/page/server/voice.ts';
import { asUserError, LIBRARY, problemOf, UserError, type Voice, wordProblem } from '../../src/problems/problem.ts';
import { type Code, SENTENCES } from '../../src/problems/sentences.ts';
import { EXAMPLES } from './examples.ts';

const src = join(import.meta.dirname, '..', '..', 'src');
const all = Object.entries(EXAMPLES).flatMap(([code, examples]) =>
  examples.map((values) => ({ code: code as Code, values: values as Readonly<Record<string, unknown>> })),
);
const OPTION = /(?<![\w-])--[a-z][a-z-]*/g;

/** A voice in whose sentences whole commands, which may have options, are left out. */
const withoutCommands = (voice: Voice): Voice => ({ ...voice, command: () => 'a command' });

describe('every sentence', () => {
  test('is found by its code in one table, and each has an example', () => {
    const tables = readdirSync(join(src, 'problems')).filter((f) => f.endsWith('-sentences.ts'));
    const codes = tables.flatMap((f) =>
      [...readFileSync(join(src, 'problems', f), 'utf8').matchAll(/^ {2}(?:'([a-z0-9-]+)'|([a-z]+)): \(/gm)].map(
        (m) => m[1] ?? m[2]!,
      ),
    );
    expect(codes.toSorted()).toEqual(Object.keys(SENTENCES).toSorted());
    expect(Object.keys(EXAMPLES).toSorted()).toEqual(codes.toSorted());
  });

  test.each([
    ['command line', COMMAND_LINE],
    ['page', PAGE],
    ['library', LIBRARY],
  ])('is whole in the words of the %s', (_, voice) => {
    for (const problem of all) {
      const text = wordProblem(problem, voice);
      expect(text, problem.code).toMatch(/^\S.*[.?]$/s);
      expect(text, problem.code).not.toMatch(/undefined|\[object|[{}]|NaN/);
      expect(text, problem.code).not.toMatch(/\s\s|\.\.|[;:,]\.$/);
    }
  });

  test.each([
    ['page', PAGE],
    ['library', LIBRARY],
  ])('names no option in the words of the %s', (_, voice) => {
    for (const problem of all) expect(wordProblem(problem, withoutCommands(voice)), problem.code).not.toContain('--');
  });

  test('is not the same for two codes', () => {
    const said = new Map<string, Code>();
    for (const problem of all) {
      const text = wordProblem(problem, LIBRARY);
      expect(said.get(text), `${problem.code} and ${said.get(text)}`).toBeUndefined();
      said.set(text, problem.code);
    }
  });

  test('on the command line names only options and commands that there are', async () => {
    const program = new Command();
    const add = await Promise.all([
      import('../../src/cli/block-command.ts').then((m) => m.addBlockCommand),
      import('../../src/cli/check-command.ts').then((m) => m.addCheckCommand),
      import('../../src/cli/change-command.ts').then((m) => m.addChangeCommand),
      import('../../src/cli/sheets-command.ts').then((m) => m.addSheetsCommand),
      import('../../src/cli/yardage-command.ts').then((m) => m.addYardageCommand),
      import('../../src/cli/compare-command.ts').then((m) => m.addCompareCommand),
      import('../../src/cli/series-command.ts').then((m) => m.addSeriesCommand),
      import('../../src/cli/page-command.ts').then((m) => m.addPageCommand),
      import('../../src/cli/verify-command.ts').then((m) => m.addVerifyCommand),
      import('../../src/cli/schema-command.ts').then((m) => m.addSchemaCommand),
    ]);
    for (const to of add) to(program);
    const options = new Set(['--help', ...program.commands.flatMap((c) => c.options.map((o) => o.long))]);
    const commands = new Set(program.commands.map((c) => c.name()));
    for (const problem of all) {
      // the one sentence that must name what there is not
      if (problem.code === 'no-such-setting') continue;
      const text = wordProblem(problem, COMMAND_LINE);
      for (const [option] of text.matchAll(OPTION)) expect(options, `${problem.code}: ${text}`).toContain(option);
      for (const [, name] of text.matchAll(/\bseamwright ([a-z]+)/g))
        expect(commands, `${problem.code}: ${text}`).toContain(name);
    }
  }, 60_000);
});

describe('one problem', () => {
  test('is spoken of as each shell does', () => {
    const problem = {
      code: 'too-many-for-section',
      values: { sections: ['A', 'B'], pieces: 14, most: 9, field: 'mostPieces' },
    } as const;
    expect(wordProblem(problem, COMMAND_LINE)).toBe(
      'A and B together have 14 pieces; a section has 9 at most (--most).',
    );
    expect(wordProblem(problem, LIBRARY)).toBe(
      'A and B together have 14 pieces; a section has 9 at most (mostPieces).',
    );
    expect(new UserError('class-or-quilt', { class: 'people', quilt: 'quilt' }, 2).message).toBe(
      'Plan either kits for a class or one quilt: leave out people or quilt.',
    );
  });

  test('comes whole through a thread', () => {
    for (const { code, values } of all) {
      const sent = new UserError(code, values as never, 2);
      const come = asUserError(structuredClone(problemOf(sent)!));
      expect(come).toBeInstanceOf(UserError);
      expect([come.code, come.values, come.exitCode, come.message]).toEqual([code, values, 2, sent.message]);
      expect(wordProblem(come, PAGE)).toBe(wordProblem({ code, values }, PAGE));
    }
    expect(problemOf(new Error('a fault'))).toBeUndefined();
  });
});

test('nothing but the command line spells options', () => {
  /** what is said to node, its engine and a browser's style sheet, not to people */
  const spared = [
    '--max-old-space-size',
    '--input-type',
    '--no-concurrent-recompilation',
    '--no-parallel-scavenge',
    '--interrupt-budget',
    '--max-inlined-bytecode-size-cumulative',
    '--wasm-lazy-compilation',
    '--ratio',
  ];
  const files = readdirSync(src, { recursive: true, encoding: 'utf8' })
    .filter((f) => /\.tsx?$/.test(f) && !f.endsWith('.d.ts'))
    // what starts processes names Node's own options
    .filter((f) => !/^(cli|problems|apart)\b/.test(f));
  const found: string[] = [];
  for (const file of files) {
    const text = readFileSync(join(src, file), 'utf8');
    if (!text.includes('--')) continue;
    const tree = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, false);
    const visit = (node: ts.Node): void => {
      if (ts.isStringLiteralLike(node) || ts.isTemplateHead(node) || ts.isTemplateMiddleOrTemplateTail(node))
        for (const [option] of node.text.matchAll(OPTION))
          if (!spared.includes(option)) found.push(`${file}: ${option}`);
      ts.forEachChild(node, visit);
    };
    visit(tree);
  }
  expect(found).toEqual([]);
});
