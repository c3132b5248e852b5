import { certainly, createEditList, likely, peopleDecide, removeEntry, type Cure } from '../../../src/doors/cures.js';
import {
  byLabel,
  commonPractice,
  defineRule,
  formatAddress,
  lastOf,
  mapAll,
  mark,
  noted,
  touchOfKind,
  type Mark,
  type Receiver,
  type Touch,
} from '../../../src/doors/rule.js';
import {
  doubledLost,
  misnamedTwin,
  namesakes,
  referenceMark,
  referrerLabel,
  type Entity,
  type NamedKind,
  type Namesakes,
} from '../../../src/doors/plan.js';
import { inputWords, words, type Facts, type Input, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'plan/duplicate-name',
  summary: 'Two things of one kind have one name',
  severity: 'error',
  sources: [commonPractice('a name means one thing')],
  needs: [],
  brief: 'name used twice',
  *check({ plan }) {
    const lostOf = new Map(doubledLost(plan).map((one) => [one.namesakes.name, one] as const));
    for (const found of namesakes(plan)) {
      const { what, name, kind, rigs } = found;
      const within = kind === undefined ? found.within : `kind ${kind.name}`;
      const across = rigs.length > 1;
      const labelOf = ({ rig }: (typeof found.things)[number]): string =>
        `${what} ${name}${across && rig !== undefined ? ` of ${rig.name}` : ''}`;
      const things = byLabel(
        mapAll(found.things, (thing) => ({ thing, label: labelOf(thing), input: inputOf(thing) })),
        ({ label, input }) => `${label} ${input === undefined ? '' : inputWords(input)}`,
      );
      const twin = twinOf(found);
      const known = lostOf.get(name);
      const lost = known?.namesakes.what === what ? known.lost : undefined;
      const entry = twin?.entry ?? (lost === undefined ? undefined : known?.loser?.origin.container);
      const last = things.find(({ thing }) => thing.origin.container === entry) ?? lastOf(things);
      const { rig } = last.thing;
      yield {
        subject: `${what} ${name}${within === undefined ? '' : ` of ${within}`}`,
        parties: [...things.map(({ label }) => label), ...(lost?.uses ?? []).map(({ by }) => referrerLabel(by))],
        severity: across || what === 'link' || what === 'stream' ? 'warning' : 'error',
        cure: () => (lost === undefined ? cure(found, twin) : renamed(known?.loser, lost.names[0])),
        facts: {
          what,
          name,
          within,
          count: things.length,
          rigs: across ? byLabel(rigs, (one) => one.name).map((one) => one.name) : [],
          inputs: things.flatMap(({ input }) => input ?? []),
          rename: across ? rig?.name : undefined,
          meant: twin?.meant,
          lost:
            lost === undefined
              ? undefined
              : {
                  name: lost.names[0],
                  by: byLabel(lost.uses, ({ by }) => referrerLabel(by)).map(({ by }) => referrerLabel(by)),
                },
        },
        at: noted(mark(last.thing, last.label, 'name'), { input: last.input, rename: true }),
        others: [
          ...things
            .filter((one) => one !== last)
            .map(({ thing, label, input }): Mark<Note> => noted(mark(thing, label, 'name'), { input, rename: false })),
          ...(lost?.uses ?? []).map((use) =>
            noted(referenceMark(use), { input: undefined, rename: false, uses: use.text }),
          ),
        ],
        touch: touchOfNamesake(found, last.thing),
      };
    }
  },
  words,
});

/** The one that its numbers tell is called so again. */
function renamed(loser: Entity | undefined, name: string): Cure {
  if (loser === undefined) return peopleDecide(`which of the two is ${name}`);
  const edits = createEditList();
  edits.set(loser, 'name', name);
  return likely(edits);
}

/** Where one is a receiver, what tells it from its namesakes. */
function inputOf(thing: Entity): Input | undefined {
  if (!isReceiver(thing)) return undefined;
  const { takes, legs } = thing;
  return {
    takes: takes?.label,
    groups: legs.flatMap(({ group }) => (group === undefined ? [] : [formatAddress(group)])),
  };
}

function isReceiver(thing: Entity): thing is Receiver {
  return 'takes' in thing;
}

function touchOfNamesake({ what, name, device, kind }: Namesakes, { origin }: Entity): Touch {
  if (kind !== undefined) return touchOfKind(kind);
  if (device !== undefined) return { kind: 'device', name: device.name };
  const touched = TOUCHED[what];
  return touched === undefined ? { kind: 'plan', name: origin.document.name } : { kind: touched, name };
}

/** What is renamed by hand; the others are renamed in the plan. */
const TOUCHED: Readonly<Partial<Record<NamedKind, Touch['kind']>>> = {
  device: 'device',
  switch: 'switch',
  VLAN: 'vlan',
  network: 'network',
  link: 'link',
  stream: 'stream',
};

/** An entry written twice, word for word, goes once; one of two that stands where the kind has another name has that. */
function cure({ what, things, device, kind }: Namesakes, twin: Twin): Cure {
  if (twin !== undefined && device !== undefined) {
    const edits = createEditList();
    edits.put({ document: device.origin.document, container: twin.entry, key: 'name' }, twin.meant);
    return likely(edits);
  }
  const [first, ...copies] = things;
  const list = LISTS[what];
  const text = (thing: Entity): string => JSON.stringify(thing.origin.container);
  if (list === undefined || copies.some((one) => text(one) !== text(first)))
    return peopleDecide('which of them each reference to the name means');
  const edits = createEditList();
  for (const copy of copies) removeEntry(edits, copy, list, device ?? kind);
  return certainly(edits, 'which of them each reference to the name means');
}

type Twin = ReturnType<typeof misnamedTwin>;

/** Of two entries of a device, the one that has the place of what the device leaves out of its kind. */
function twinOf({ what, name, device, kind }: Namesakes): Twin {
  const list = PARTS[what];
  return device === undefined || kind !== undefined || list === undefined
    ? undefined
    : misnamedTwin(device, list, name);
}

const PARTS: Readonly<Partial<Record<NamedKind, 'interfaces' | 'senders' | 'receivers'>>> = {
  interface: 'interfaces',
  sender: 'senders',
  receiver: 'receivers',
};

const LISTS: Readonly<Partial<Record<NamedKind, string>>> = {
  device: 'devices',
  switch: 'switches',
  VLAN: 'vlans',
  network: 'networks',
  link: 'links',
  stream: 'streams',
};
