/**
 * Completion scripts, run by the shells they are for. Bash and zsh are asked what the function offers, with stand-ins for
 * what works only while somebody types; fish has a word of its own for that, `complete -C`.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { SHELLS, type Shell } from '../../src/cli/completion/shells.js';
import { SHEETS } from '../../src/reporters/crew.js';
import { run } from '../tools/run-program.js';

const IDS = RULES.map(({ id }) => id);
const AREAS = [...new Set(IDS.map((id) => id.split('/')[0] ?? ''))];
const FILES = 'files';
const FOLDERS = 'folders';
let folder = '';

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'rigproof-completion-'));
  for (const shell of SHELLS) writeFileSync(join(folder, shell), (await run(['completion', shell])).stdout);
  mkdirSync(join(folder, 'here/rig'), { recursive: true });
  writeFileSync(join(folder, 'here/plan.yaml'), 'rig: Heron\n');
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** Words typed so far, the last of them still open, and what may stand there. */
const CASES: readonly (readonly [line: string, offered: readonly string[] | typeof FILES | typeof FOLDERS])[] = [
  ['li', ['lint', 'licences']],
  ['--large', ['--largest-file']],
  ['lint --form', ['--format']],
  ['lint --format ', ['text', 'json', 'sarif']],
  ['lint --format s', ['sarif']],
  ['lint plan.yaml --format j', ['json']],
  ['lint --fail-at ', ['error', 'warning', 'note', 'unjudged']],
  ['lint --area ', AREAS],
  ['lint --rea', ['--reach']],
  ['lint --house', []],
  ['lint --width ', []],
  ['lint ', FILES],
  ['lint --profile ', FILES],
  ['failures heron --format ', ['text', 'json', 'csv']],
  ['failures --front', []],
  ['merge heron --keep ', []],
  ['merge heron --write ', FOLDERS],
  ['allocate --earlier ', FILES],
  ['sheets heron --only h', SHEETS.filter((name) => name.startsWith('h'))],
  ['mend plan.yaml --rule groups/two', ['groups/two-senders']],
  ['explain timing/', IDS.filter((id) => id.startsWith('timing/'))],
  ['--reach lint explain groups/two', ['groups/two-senders']],
  ['--reach ', FOLDERS],
  ['settle ', FOLDERS],
  ['rate ', []],
  ['completion ', SHELLS],
  ['help tra', ['trace']],
];

describe.each(SHELLS)('completion in %s', (shell) => {
  const there = spawnSync(shell, ['-c', 'true']).status === 0;

  it.skipIf(!there)(`(needs ${shell}) offers what may stand there, and nothing else`, () => {
    for (const [line, expected] of CASES)
      expect(sorted(ASK[shell](line.split(' '))), `rigproof ${line}`).toEqual(sorted(expected));
  });

  it.skipIf(!there)(`(needs ${shell}) knows a value that is joined to its option`, () => {
    const words = shell === 'bash' ? ['lint', '--format', '=', 's'] : ['lint', '--format=s'];
    expect(ASK[shell](words)).toEqual(shell === 'fish' ? ['--format=sarif'] : ['sarif']);
    if (shell === 'bash') expect(ASK.bash(['lint', '--format', '='])).toEqual(['text', 'json', 'sarif']);
  });
});

describe('every script', () => {
  it('offers each command and each option that help shows', async () => {
    const all = (await run(['--help'])).stdout.split('\nCommands:\n')[1] ?? '';
    const names = [...all.matchAll(/^ {2}([a-z]+) /gm)].map(([, name = '']) => name);
    expect(names.length).toBeGreaterThan(15);
    for (const shell of SHELLS) {
      const script = (await run(['completion', shell])).stdout;
      for (const name of names.filter((one) => one !== 'help')) {
        const help = (await run([name, '--help'])).stdout;
        for (const [, option = ''] of help.matchAll(/^ {2}(?:-\w, )?--([a-z-]+)/gm))
          expect(script, `${shell}: ${name} --${option}`).toMatch(
            new RegExp(shell === 'fish' ? `-l ${option}\\b` : `--${option}\\b`),
          );
      }
    }
  });

  it('is plain text, and there is none for other shells', async () => {
    for (const shell of SHELLS) expect((await run(['completion', shell])).stdout).not.toMatch(/[^\n -~…“”’–]/);
    const wrong = await run(['completion', 'csh']);
    expect([wrong.status, wrong.stdout]).toEqual([2, '']);
    expect(wrong.stderr).toContain('bash, zsh, fish');
  });
});

type Offered = readonly string[] | typeof FILES | typeof FOLDERS;

const ASK: Readonly<Record<Shell, (words: readonly string[]) => Offered>> = {
  bash(words) {
    // Bash offers files itself unless the function turns that off.
    const script = `
      compopt() { case "$*" in '+o default') kept=none ;; '+o default -o dirnames') kept=folders ;; *) kept="$*" ;; esac; }
      kept=files; source ./bash; COMP_WORDS=(rigproof "$@"); COMP_CWORD=$#; _rigproof
      if [[ $kept == none ]]; then printf '%s\\n' "\${COMPREPLY[@]}"; else echo ":$kept"; fi`;
    return read(spawn('bash', ['-c', script, 'bash', ...words]));
  },
  zsh(words) {
    const script = `
      compdef() { }
      compset() { [[ "$*" == '-P 1 *=' ]] && PREFIX=\${PREFIX#*=} }
      _files() { [[ $1 == -/ ]] && print :folders || print :files }
      _describe() {
        local one
        for one in "\${(@P)@[-1]}"; do [[ \${one%%:*} == "$PREFIX"* ]] && print -r -- "\${one%%:*}"; done
      }
      source ./zsh; words=(rigproof "$@"); CURRENT=$#words; PREFIX=$words[-1]; _rigproof`;
    return read(spawn('zsh', ['-f', '-c', script, 'zsh', ...words]));
  },
  fish(words) {
    const script = 'source ../fish; complete -C "rigproof $argv"';
    const offered = read(spawn('fish', ['--no-config', '-c', script, '--', words.join(' ')], join(folder, 'here')));
    const names = typeof offered === 'string' ? [offered] : offered.map((line) => line.split('\t')[0] ?? '');
    if (names.includes('plan.yaml')) return FILES;
    return names.includes('rig/') ? FOLDERS : names;
  },
};

function spawn(shell: Shell, words: readonly string[], cwd = folder): string {
  const { stdout, stderr } = spawnSync(shell, words, {
    cwd,
    encoding: 'utf8',
    env: { ...process.env, HOME: folder, XDG_CONFIG_HOME: folder, XDG_DATA_HOME: folder },
  });
  expect(stderr).toBe('');
  return stdout;
}

function sorted(offered: Offered): Offered {
  return typeof offered === 'string' ? offered : [...offered].sort();
}

function read(stdout: string): Offered {
  const lines = stdout.split('\n').filter((line) => line !== '');
  if (lines[0] === ':files') return FILES;
  return lines[0] === ':folders' ? FOLDERS : lines;
}
