import {
  alikeSuspects,
  byLabel,
  clause,
  commonPractice,
  defineRule,
  kindOf,
  listNames,
  lookOf,
  mark,
  spellingOf,
  touchOfKind,
  type Named,
  type Plan,
  type Touch,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'plan/look-alike-names',
  summary: 'Two names that people take for one another',
  severity: 'warning',
  sources: [clause('UTS #39', '4'), commonPractice('names are told apart on a label and on the radio')],
  needs: [],
  *check({ plan }) {
    for (const group of groups(plan)) {
      for (const names of alike([...group.things.keys()])) {
        const [first, ...rest] = byLabel(names, (name) => name);
        const last = rest.at(-1);
        if (first === undefined || last === undefined) continue;
        const marks = [first, ...rest].flatMap(
          (name) =>
            group.things
              .get(name)
              ?.slice(0, 1)
              .map((thing) => mark(thing.entity, `${thing.word} ${name}`, 'name')) ?? [],
        );
        const at = marks.at(-1);
        const touch = group.things.get(last)?.[0]?.touch;
        if (at === undefined || touch === undefined) continue;
        const odd = oddSigns(names);
        const spelt = odd.length === 0 && new Set(names.map(spellingOf)).size === 1;
        yield {
          subject: `${[first, ...rest].join(', ')}${group.within === '' ? '' : ` of ${group.within}`}`,
          parties: [first, ...rest],
          what: `${listNames([first, ...rest])} ${spelt ? howSpelt(names) : 'look alike'}${odd.length === 0 ? '' : `: ${listNames(odd)} ${odd.length === 1 ? 'is' : 'are'} in one and not in the other`}`,
          at,
          others: marks.slice(0, -1),
          onAir:
            'somebody takes one for the other: a route, a cable or a change goes to the wrong one, mostly when it has to be quick',
          fix: 'rename all but one so that they differ when read aloud; or, if one thing was meant, write its name the same everywhere',
          touch,
        };
      }
    }
  },
});

interface Thing {
  readonly entity: Named;
  readonly word: string;
  readonly touch: Touch;
}

interface Group {
  readonly within: string;
  readonly things: ReadonlyMap<string, readonly Thing[]>;
}

function howSpelt(names: readonly string[]): string {
  const onlyCase = new Set(names.map((name) => name.toLowerCase())).size === 1;
  return onlyCase ? 'differ only by case' : 'differ only by case, separators or leading zeros';
}

/** Sets of names of one kind that share their look or their spelling, each set once. */
function alike(names: readonly string[]): readonly (readonly string[])[] {
  const found: (readonly string[])[] = [];
  const together = new Map<string, ReadonlySet<string>>();
  for (const keyOf of [spellingOf, lookOf]) {
    const byKey = new Map<string, string[]>();
    for (const name of names) {
      const key = keyOf(name);
      const group = byKey.get(key);
      if (group === undefined) byKey.set(key, [name]);
      else group.push(name);
    }
    for (const group of byKey.values()) {
      const known = group.length < 2 ? undefined : together.get(group[0] ?? '');
      if (group.length < 2 || (known !== undefined && group.every((name) => known.has(name)))) continue;
      const set = new Set(group);
      for (const name of group) together.set(name, set);
      found.push(group);
    }
  }
  return found;
}

function* groups(plan: Plan): Iterable<Group> {
  const several = plan.rigs.length > 1;
  yield groupOf('', [...plan.devices, ...plan.switches], (entity) =>
    'ports' in entity
      ? { entity, word: 'switch', touch: { kind: 'switch', name: entity.name } }
      : { entity, word: 'device', touch: { kind: 'device', name: entity.name } },
  );
  for (const rig of plan.rigs) {
    const within = several ? rig.name : '';
    yield groupOf(
      within,
      plan.vlans.filter((one) => one.rig === rig),
      (entity) => ({ entity, word: 'VLAN', touch: { kind: 'vlan', name: entity.name } }),
    );
    yield groupOf(
      within,
      plan.networks.filter((one) => one.rig === rig),
      (entity) => ({ entity, word: 'network', touch: { kind: 'network', name: entity.name } }),
    );
  }
  const told = new Set<object>();
  let sound: readonly Named[] = [];
  for (const device of plan.devices) {
    // Devices of one make follow one another, with the same senders.
    if (device.senders.length < 2 || haveSameNames(device.senders, sound)) continue;
    if (alikeSuspects(device.senders).length === 0) {
      sound = device.senders;
      continue;
    }
    // Senders that come from the kind are the same in every device of it.
    const from = kindOf(device, device.senders);
    if (from !== undefined && told.has(from)) continue;
    if (from !== undefined) told.add(from);
    const touch: Touch = from === undefined ? { kind: 'device', name: device.name } : touchOfKind(from);
    yield groupOf(from === undefined ? device.name : `kind ${from.name}`, device.senders, (entity) => ({
      entity,
      word: 'sender',
      touch,
    }));
  }
}

function haveSameNames(a: readonly Named[], b: readonly Named[]): boolean {
  return a.length === b.length && a.every(({ name }, index) => name === b[index]?.name);
}

/** Only of what may be alike: things for all the names of a large plan would cost more than the comparison. */
function groupOf<T extends Named>(within: string, all: readonly T[], thingOf: (one: T) => Thing): Group {
  const byName = new Map<string, Thing[]>();
  for (const one of alikeSuspects(all)) {
    const thing = thingOf(one);
    const list = byName.get(one.name);
    if (list === undefined) byName.set(one.name, [thing]);
    else list.push(thing);
  }
  return { within, things: byName };
}

/** Signs outside ASCII that some of the names have and others have not, by their code: they can't be told on a screen. */
function oddSigns(names: readonly string[]): readonly string[] {
  const signs = new Set(
    names
      .flatMap((name) => Array.from(name))
      .filter((sign) => (sign.codePointAt(0) ?? 0) > 0x7e && !names.every((name) => name.includes(sign))),
  );
  return [...signs].map((sign) => `U+${(sign.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`).sort();
}
