import {
  byLabel,
  commonPractice,
  defineRule,
  lastOf,
  mapAll,
  mark,
  noted,
  touchOfKind,
  type NonEmpty,
} from '../../../src/lint/rule.js';
import { doubles, type Scope, type Thing } from './scopes.js';
import { words, type Facts, type Note, type Takes } from './words.js';

export default defineRule<Facts, Note>({
  id: 'plan/duplicate-name',
  summary: 'Two things of one kind have one name',
  severity: 'error',
  sources: [commonPractice('a name means one thing')],
  needs: [],
  *check({ plan }) {
    // What a device kind writes twice, every device of the kind has twice: it is said once, of the kind.
    const told = new Set<string>();
    for (const { scope, name, things: all, kind } of doubles(plan)) {
      const within = kind === undefined ? scope.within : `kind ${kind.name}`;
      if (kind !== undefined && told.has(`${within} ${scope.kind} ${name}`)) continue;
      if (kind !== undefined) told.add(`${within} ${scope.kind} ${name}`);
      const rigs = new Set(all.map(({ rig }) => rig));
      const across = rigs.size > 1;
      const label = ({ rig }: Thing): string =>
        `${scope.kind} ${name}${across && rig !== undefined ? ` of ${rig.name}` : ''}`;
      const things = byLabel(all, (thing) => `${label(thing)} ${takesKey(thing.takes)}`);
      const last = lastOf(things);
      const marks = mapAll(things, (thing) =>
        noted(mark(thing.entity, label(thing), 'name'), { takes: thing.takes, rename: thing === last }),
      );
      yield {
        subject: `${scope.kind} ${name}${within === '' ? '' : ` of ${within}`}`,
        parties: things.map(label),
        severity: across || isLesser(scope) ? 'warning' : 'error',
        facts: {
          kind: scope.kind,
          name,
          within,
          count: things.length,
          rigs: across
            ? byLabel(
                [...rigs].map((rig) => rig?.name ?? ''),
                (rig) => rig,
              )
            : [],
          renameIn: last.rig?.name ?? '',
          takes: takesOf(things),
        },
        at: lastOf(marks),
        others: marks.slice(0, -1),
        touch: kind === undefined ? last.touch : touchOfKind(kind),
      };
    }
  },
  words,
});

/** Names need not be unique for the plan to be clear. */
function isLesser({ kind }: Scope): boolean {
  return kind === 'link' || kind === 'stream';
}

function takesOf(things: NonEmpty<Thing>): readonly Takes[] {
  return things.flatMap(({ takes }) => takes ?? []);
}

/** Receivers that join groups come before those that take a sender. */
function takesKey(takes: Takes | undefined): string {
  if (takes === undefined) return '';
  if ('groups' in takes) return takes.groups.length === 0 ? 'takes nothing yet' : `joins ${takes.groups.join(' ')}`;
  return `takes ${takes.sender.label}`;
}
