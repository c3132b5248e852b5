import {
  byLabel,
  commonPractice,
  defineRule,
  formatAddress,
  kindOf,
  listNames,
  mark,
  touchOfKind,
  type Device,
  type Entity,
  type WordedDraft,
  type Kind as DeviceKind,
  type Named,
  type Plan,
  type Receiver,
  type Rig,
  type Touch,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'plan/duplicate-name',
  summary: 'Two things of one kind have one name',
  severity: 'error',
  sources: [commonPractice('a name means one thing')],
  needs: [],
  *check({ plan }) {
    const told = new Map<DeviceKind, Set<string>>();
    for (const group of groups(plan)) {
      for (const [name, things] of sameNames(group.things)) {
        // What a device kind writes twice, every device of the kind has twice: it is said once, of the kind.
        const kind =
          group.device === undefined
            ? undefined
            : kindOf(
                group.device,
                things.map((thing) => thing.entity),
              );
        if (kind === undefined) yield finding(group, name, things);
        else {
          const key = `${group.title} ${name}`;
          const known = told.get(kind) ?? new Set<string>();
          told.set(kind, known);
          if (!known.has(key))
            yield finding(
              { ...group, within: `kind ${kind.name}` },
              name,
              things.map((thing) => ({ ...thing, touch: touchOfKind(kind) })),
            );
          known.add(key);
        }
      }
    }
  },
});

interface Thing {
  readonly entity: Entity & { readonly name?: string | undefined };
  /** `device`, `switch`, … */
  readonly word: string;
  readonly rig: Rig | undefined;
  readonly touch: Touch;
  /** What tells it from its namesakes: `takes cam-1/video`. */
  readonly says?: string;
}

interface Group {
  readonly title: string;
  /** What the things belong to: `cam-1`, a rig, nothing. */
  readonly within: string;
  readonly things: readonly Thing[];
  /** Whose parts the things are. */
  readonly device?: Device;
  readonly onAir: string;
  /** When names need not be unique for the plan to be clear. */
  readonly lesser?: boolean;
}

function finding(group: Group, name: string, things: readonly Thing[]): WordedDraft {
  const rigs = new Set(things.map((thing) => thing.rig));
  const label = ({ word, rig }: Thing): string =>
    `${word} ${name}${rigs.size > 1 && rig !== undefined ? ` of ${rig.name}` : ''}`;
  const sorted = byLabel(things, (thing) => `${label(thing)} ${thing.says ?? ''}`);
  const said = sorted.flatMap((thing) => thing.says ?? []);
  const [first, ...rest] = sorted;
  const last = rest.at(-1);
  if (first === undefined || last === undefined) throw new Error('a name is double only where two things have it');
  const marks = sorted.map((thing, index) =>
    mark(
      thing.entity,
      `${label(thing)}${thing.says === undefined ? '' : `, ${thing.says}`}${index === sorted.length - 1 ? ': give it another name' : ''}`,
      'name',
    ),
  );
  const at = marks.at(-1);
  if (at === undefined) throw new Error('as many marks as things');
  const across = rigs.size > 1;
  return {
    subject: `${group.title} ${name}${group.within === '' ? '' : ` of ${group.within}`}`,
    parties: sorted.map(label),
    severity: across || group.lesser === true ? 'warning' : 'error',
    what: `${things.length} ${plural(first.word)}${group.within === '' ? '' : ` of ${group.within}`} are called ${name}${
      across
        ? `, in ${listNames(
            byLabel(
              [...rigs].map((rig) => rig?.name ?? ''),
              (rig) => rig,
            ),
          )}`
        : ''
    }${said.length === 0 ? '' : `: one ${listNames(said).replaceAll(' and ', ' and one ').replaceAll(', ', ', one ')}`}`,
    at,
    others: marks.slice(0, -1),
    onAir: across
      ? 'on the radio and on labels nobody can tell them apart once the rigs are joined: the wrong box gets changed'
      : group.onAir,
    fix: across
      ? `put the rig into one of the names, ${last.rig?.name.toLowerCase() ?? ''}-${name} for one`
      : 'give each of them a name of its own, here and wherever it is referred to; or take one out if it was written twice',
    touch: last.touch,
  };
}

/** Only those in which a name comes twice: lists of things for every device of a large plan cost more than all else. */
function* groups(plan: Plan): Iterable<Group> {
  const planTouch = (entity: Entity): Touch => ({ kind: 'plan', name: entity.origin.document.name });
  // A box that is both a device and a switch has one name for both.
  if (anyDouble(plan.devices))
    yield {
      title: 'device',
      within: '',
      things: plan.devices.map((entity): Thing => ({
        entity,
        word: 'device',
        rig: entity.rig,
        touch: { kind: 'device', name: entity.name },
      })),
      onAir:
        'whatever refers to the name gets the first one: receivers take the wrong picture, and a change is made on the wrong box',
    };
  yield {
    title: 'switch',
    within: '',
    things: plan.switches.map((entity): Thing => ({
      entity,
      word: 'switch',
      rig: entity.rig,
      touch: { kind: 'switch', name: entity.name },
    })),
    onAir:
      'whatever refers to the name gets the first one: cables go into the wrong switch, and the other one is configured by nobody',
  };
  const perRig = <T extends Named & { readonly rig: Rig }>(
    title: string,
    all: readonly T[],
    onAir: string,
    touch: (one: T) => Touch,
  ): readonly Group[] =>
    plan.rigs.map((rig) => ({
      title,
      within: plan.rigs.length > 1 ? rig.name : '',
      things: all
        .filter((one) => one.rig === rig)
        .map((entity) => ({ entity, word: title, rig, touch: touch(entity) })),
      onAir,
    }));
  yield* perRig(
    'VLAN',
    plan.vlans,
    'hosts and ports that name the VLAN get the first one: the second one has nobody in it, and its id, subnet and querier never come to the switches',
    (one) => ({ kind: 'vlan', name: one.name }),
  );
  yield* perRig(
    'network',
    plan.networks,
    'VLANs that name the network get the first one: what the second one says of its leg and role counts for nobody',
    (one) => ({ kind: 'network', name: one.name }),
  );
  yield* perRig(
    'device kind',
    plan.kinds,
    'devices of the kind get the first one: interfaces and streams of the second are missing on all of them',
    planTouch,
  );
  yield* formatGroups(plan, planTouch);
  yield* linkGroups(plan);
  for (const device of plan.devices) {
    if (!anyDouble(device.interfaces) && !anyDouble(device.senders) && !anyDouble(device.receivers)) continue;
    const touch: Touch = { kind: 'device', name: device.name };
    const things = (word: string, all: readonly Named[]): readonly Thing[] =>
      all.map((entity) => ({ entity, word, rig: undefined, touch }));
    yield {
      title: 'interface',
      within: device.name,
      device,
      things: things('interface', device.interfaces),
      onAir: 'streams that name the interface go out and in on the first one: the second cable carries nothing',
    };
    yield {
      title: 'sender',
      within: device.name,
      device,
      things: things('sender', device.senders),
      onAir: 'receivers that take it by name get the first one: the wrong picture or sound',
    };
    yield {
      title: 'receiver',
      within: device.name,
      device,
      things: device.receivers.map((entity) => ({
        entity,
        word: 'receiver',
        rig: undefined,
        touch,
        says: takes(entity),
      })),
      onAir: 'nobody can tell which of the two inputs is meant: a route is made on the wrong one',
    };
  }
  yield* descriptions(plan);
}

function* formatGroups(plan: Plan, touch: (entity: Entity) => Touch): Iterable<Group> {
  for (const [rig, formats] of groupBy(plan.formats, ({ origin }) => plan.rigOf(origin.document))) {
    yield {
      title: 'format',
      within: plan.rigs.length > 1 ? rig.name : '',
      things: formats.map((entity) => ({ entity, word: 'format', rig: undefined, touch: touch(entity) })),
      onAir:
        'streams that name the format get the first one: bandwidth is counted, and receivers are set, for the wrong one',
    };
  }
}

function* linkGroups(plan: Plan): Iterable<Group> {
  for (const [rig, links] of groupBy(plan.links, (link) => link.rig)) {
    yield {
      title: 'link',
      within: plan.rigs.length > 1 ? rig.name : '',
      things: links.map((entity) => ({ entity, word: 'link', rig, touch: { kind: 'link', name: entity.name ?? '' } })),
      onAir: 'two cables bear one label: on the day the wrong one is pulled or patched',
      lesser: true,
    };
  }
}

/** Streams known by description only, file by file; the media of one session may well share a name. */
function* descriptions(plan: Plan): Iterable<Group> {
  const streams = plan.senders.filter((sender) => sender.device === undefined && sender.session === undefined);
  for (const [document, own] of groupBy(streams, (stream) => stream.origin.document)) {
    if (!anyDouble(own)) continue;
    yield {
      title: 'stream',
      within: document.name,
      things: own.map((entity) => ({
        entity,
        word: 'stream',
        rig: undefined,
        touch: { kind: 'stream', name: entity.name },
      })),
      onAir:
        'receivers that take it by name get the first one, and nobody can tell from the list which of them is on air',
      lesser: true,
    };
  }
}

function anyDouble(all: readonly { readonly name: string }[]): boolean {
  if (all.length > FEW) return new Set(all.map((one) => one.name)).size < all.length;
  for (let index = 1; index < all.length; index++) {
    const name = all[index]?.name;
    for (let before = 0; before < index; before++) if (all[before]?.name === name) return true;
  }
  return false;
}

/** Up to here comparing each with each is faster than a set. */
const FEW = 8;

function sameNames(things: readonly Thing[]): Iterable<[string, readonly Thing[]]> {
  return [...groupBy(things, (thing) => thing.entity.name)].flatMap(([name, own]) =>
    name === undefined || own.length < 2 ? [] : [[name, own] as [string, readonly Thing[]]],
  );
}

function groupBy<T, K>(items: readonly T[], key: (item: T) => K): ReadonlyMap<K, readonly T[]> {
  const groups = new Map<K, T[]>();
  for (const item of items) {
    const list = groups.get(key(item));
    if (list === undefined) groups.set(key(item), [item]);
    else list.push(item);
  }
  return groups;
}

function takes({ takes: sender, legs }: Receiver): string {
  if (sender !== undefined) return `takes ${sender.label}`;
  const groups = legs.flatMap(({ group }) => (group === undefined ? [] : [formatAddress(group)]));
  return groups.length === 0 ? 'takes nothing yet' : `joins ${groups.join(' and ')}`;
}

function plural(word: string): string {
  return word === 'switch' ? 'switches' : `${word}s`;
}
