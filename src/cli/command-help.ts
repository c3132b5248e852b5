/** What stands below the help of each command: lines to try, and what its exit codes say. */
import type { Command } from 'commander';
import { EXIT } from './exit.js';

interface Example {
  /** The words after `rigproof`, as a shell takes them, from the folder `EXAMPLES` names. */
  readonly line: string;
  /** What it shows, and its exit code where that is not 0. */
  readonly shows: string;
}

interface CommandHelp {
  readonly examples: readonly [Example, ...Example[]];
  /** The codes the command can end with; one it never ends with is not there. */
  readonly exits: Exits;
}

type Exits = Readonly<Partial<Record<keyof typeof EXIT, string>> & Record<'clean' | 'unusable' | 'failed', string>>;

/** Where the examples are run: short names, and plans that are there. */
const EXAMPLES = 'examples/kestrel-bay';

const UNUSABLE = "a plan that can't be read, or wrong usage";
const FAILED = "the program failed, or what it has to say can't be written";
const JUDGES = { unusable: UNUSABLE, failed: `a rule or ${FAILED}` };
/** Of commands that answer a question: what the answer is does not matter. */
const ANSWERS: Exits = { clean: 'it is answered, whatever the answer is', unusable: UNUSABLE, failed: FAILED };
const ASKED_BY_NAME: Exits = { ...ANSWERS, unusable: "a plan that can't be read, a name nobody has, or wrong usage" };
const PRINTS: Exits = { clean: 'it is printed', unusable: 'wrong usage', failed: FAILED };

const HELP: Readonly<Record<string, CommandHelp>> = {
  lint: {
    examples: [
      { line: 'lint heron', shows: 'the plan of the truck, which is clean' },
      { line: 'lint heron-broken --front', shows: 'a broken revision, one line a cause; exit code 1' },
    ],
    exits: {
      clean: 'nothing found at or above --fail-at',
      findings: 'something found at or above it; with unjudged, also a part not judged',
      ...JUDGES,
    },
  },
  mend: {
    examples: [
      {
        line: 'mend heron-broken --rule groups/leg-map',
        shows: 'what would change for one rule; others still find errors: exit code 1',
      },
      {
        line: 'mend heron-broken --likely --write mended',
        shows: 'a copy with likely cures too; people decide the rest: exit code 1',
      },
    ],
    exits: {
      clean: 'nothing left at or above --fail-at',
      findings: 'something left at or above it; with unjudged, also a part not judged',
      ...JUDGES,
    },
  },
  merge: {
    examples: [
      { line: 'merge heron dunlin --join join.yaml', shows: 'what clashes where two rigs meet; exit code 1' },
      {
        line: 'merge heron dunlin --join join.yaml --write joined',
        shows: 'both plans with new numbers, and the change sheet, in a folder',
      },
    ],
    exits: {
      clean: 'nothing clashes at or above --fail-at; after a repair: nothing is left',
      findings: 'something clashes or is left; with unjudged, also a part not judged',
      unusable: "a plan that can't be read or renumbered, or wrong usage",
      failed: JUDGES.failed,
    },
  },
  apply: {
    examples: [
      {
        line: 'apply joined/change-sheet.json heron dunlin --join join.yaml --write again',
        shows: 'the same new plans, once merge has written into joined',
      },
    ],
    exits: {
      clean: 'the plans say what the sheet says',
      unusable: "a plan or sheet that can't be read, one that does not fit, or wrong usage",
      failed: FAILED,
    },
  },
  allocate: {
    examples: [
      { line: 'allocate finish-island/request.yaml --reach .', shows: 'a plan clear of both rigs, as text' },
      {
        line: 'allocate finish-island/request.yaml --reach . --output island.yaml --sheets island',
        shows: 'the same plan in a file, its crew sheets in a folder',
      },
    ],
    exits: {
      clean: 'a plan is made',
      findings: 'a plan is made in which lint finds errors',
      unusable: 'no plan: a request that cannot be read or met, or wrong usage',
      failed: FAILED,
    },
  },
  rules: { examples: [{ line: 'rules', shows: 'all of them, by area' }], exits: PRINTS },
  explain: {
    examples: [{ line: 'explain groups/two-senders', shows: 'two-senders alone is name enough' }],
    exits: { ...PRINTS, unusable: 'no such rule, or wrong usage' },
  },
  rate: {
    examples: [
      { line: 'rate 1080p50', shows: 'a picture' },
      { line: 'rate "L24 8ch 125us" --headroom 20', shows: 'sound, with a fifth of each port kept free' },
    ],
    exits: { ...PRINTS, unusable: 'a format that is none or leaves something open, or wrong usage' },
  },
  trace: { examples: [{ line: 'trace heron cam-11/video', shows: 'the picture of camera 11' }], exits: ASKED_BY_NAME },
  failures: {
    examples: [
      { line: 'failures heron', shows: 'what each loss takes off air' },
      { line: 'failures heron --lose red-core --timeline', shows: 'what happens after it, from second to second' },
    ],
    exits: ASKED_BY_NAME,
  },
  clocks: {
    examples: [
      { line: 'clocks heron', shows: 'who leads, who follows' },
      { line: 'clocks heron --lose clock-201', shows: 'the election without one grandmaster' },
    ],
    exits: ASKED_BY_NAME,
  },
  delay: {
    examples: [
      { line: 'delay heron', shows: 'lip sync and round trips' },
      { line: 'delay heron --stream cam-11/video', shows: 'one stream, part by part' },
    ],
    exits: ASKED_BY_NAME,
  },
  diff: {
    examples: [{ line: 'diff heron heron-broken', shows: 'from one revision to the next' }],
    exits: { ...ANSWERS, clean: 'they are compared, whatever has changed' },
  },
  sheets: {
    examples: [
      { line: 'sheets heron --output crew', shows: 'all sheets, in a folder' },
      { line: 'sheets heron --only hosts', shows: 'one, on standard output' },
    ],
    exits: {
      clean: 'the sheets are made',
      unusable: "a plan that can't be read or has nothing for them, or wrong usage",
      failed: FAILED,
    },
  },
  settle: {
    examples: [{ line: 'settle heron', shows: 'nothing was cut off here, and it says so' }],
    exits: {
      clean: 'all files are new or all old, or nothing was cut off',
      unusable: 'something is in the way, no such folder, or wrong usage',
      failed: FAILED,
    },
  },
  licences: { examples: [{ line: 'licences', shows: 'of rigproof and of what it runs on' }], exits: PRINTS },
  completion: {
    examples: [{ line: 'completion bash', shows: 'source <(rigproof completion bash) takes it at once' }],
    exits: PRINTS,
  },
};

/** Puts examples and exit codes below the help of every command. Throws on a command that has none. */
export function addCommandHelp(program: Command): void {
  for (const command of program.commands) {
    const help = HELP[command.name()];
    if (help === undefined) throw new Error(`${command.name()} has no examples`);
    command.addHelpText('after', () => helpText(help));
  }
}

function helpText({ examples, exits }: CommandHelp): string {
  const lines = examples.flatMap(({ line, shows }) => [`  rigproof ${line}`, `      ${shows}`]);
  const codes = Object.entries(EXIT).flatMap(([name, code]) => {
    const says = exits[name as keyof typeof EXIT];
    return says === undefined ? [] : [`  ${code}  ${says}`];
  });
  return ['', `Examples, in ${EXAMPLES} of this package:`, ...lines, '', 'Exit codes:', ...codes].join('\n');
}
