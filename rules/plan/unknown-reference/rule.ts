import {
  byLabel,
  commonPractice,
  defineRule,
  labelledReference,
  listNames,
  touchOfKind,
  type Device,
  type Kind,
  type Mark,
  type Plan,
  type Touch,
  type LabelledReference as Unresolved,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'plan/unknown-reference',
  summary: 'A name that leads nowhere',
  severity: 'error',
  sources: [commonPractice('a name that is used is written down somewhere')],
  needs: [],
  *check({ plan }) {
    const devices =
      plan.unresolved.length === 0 ? NO_DEVICES : new Map(plan.devices.map((device) => [device.name, device]));
    for (const uses of groups(plan.unresolved.map(labelledReference))) {
      const sorted = byLabel(uses, (one) => one.by);
      const [first, ...rest] = sorted;
      if (first === undefined) continue;
      const { wanted, text } = first;
      const by = [...new Set(sorted.map((one) => one.by))];
      const meant = likely(plan, first, sorted);
      const thing = thingOf(wanted, `\`${text}\``);
      yield {
        subject: thingOf(wanted, text),
        parties: by,
        what: `${listNames(by)} ${by.length === 1 ? 'refers' : 'refer'} to ${thing}, which is not in the plan${meant.length === 0 ? '' : `; did you mean ${either(meant)}?`}`,
        at: markOf(first),
        others: rest.map(markOf),
        onAir:
          ON_AIR[wanted.replace(/ of .*$/, '')] ??
          'what this name ties together is not tied: it gets configured on site from memory, and no rule here can check it',
        fix:
          meant.length === 0
            ? `write down ${thing}, or correct the name`
            : `write ${either(meant)}, or write down ${thing} if it is another one`,
        touch: touchOfReference(devices, first, by),
      };
    }
  },
});

const TAKEN = 'the receiver is connected to whatever sounds right, or to nothing: the wrong stream arrives, or none';
const PLUGGED =
  'the cable goes into whatever port is free: nobody knows in which VLAN, and no rule here can check the path';

const ON_AIR: Readonly<Record<string, string | undefined>> = {
  VLAN: 'whoever sets up the port or the host takes the VLAN that sounds right: nothing arrives, or it arrives in the wrong place',
  device: TAKEN,
  stream: TAKEN,
  sender: TAKEN,
  switch: PLUGGED,
  port: PLUGGED,
  interface: 'nobody knows on which network the stream goes out or comes in: it may be missing on one leg, or on both',
  format: 'sender and receiver are set from memory: a receiver set to another format shows nothing or garbage',
  'device kind':
    'everything the kind would give this device is missing from the plan: its interfaces, its streams, and all checks of them',
  'switch or device':
    'the box meant to query or to route is set up by nobody: groups time out after minutes, or never leave their VLAN',
};

/** `port 12 of switch red-start`, `VLAN red-vidoe`. */
function thingOf(wanted: string, text: string): string {
  const [word = '', owner] = wanted.split(/ of (.*)/);
  return owner === undefined ? `${wanted} ${text}` : `${word} ${text} of ${owner}`;
}

/** Of numbered ports the nearest number is no better a guess than any other. */
function isLikely(wanted: string, text: string, suggestion: string): boolean {
  return !wanted.startsWith('port of ') || suggestion.replace(/\d+/g, '#') !== text.replace(/\d+/g, '#');
}

const MOST_NAMES = 3;
const NO_DEVICES: ReadonlyMap<string, Device> = new Map();

/** Names equally close to what is written; of streams, those that no receiver takes yet before all others. */
function likely(plan: Plan, { wanted, text }: Unresolved, uses: readonly Unresolved[]): readonly string[] {
  const close = [...new Set(uses.flatMap((one) => one.suggestions))].filter((name) => isLikely(wanted, text, name));
  const names = byLabel(close, (name) => name);
  if (names.length < 2 || !/^(sender|stream)/.test(wanted)) return names.slice(0, MOST_NAMES);
  const device = wanted.replace(/^sender of /, '');
  const taken = new Set(
    plan.receivers.flatMap(({ takes }) =>
      takes !== undefined && (takes.device === undefined || takes.device.name === device) ? [takes.name] : [],
    ),
  );
  const left = names.filter((name) => !taken.has(name));
  return (left.length > 0 ? left : names).slice(0, MOST_NAMES);
}

function either(names: readonly string[]): string {
  const quoted = names.map((name) => `\`${name}\``);
  return quoted.length < 2 ? quoted.join('') : `${quoted.slice(0, -1).join(', ')} or ${quoted.at(-1) ?? ''}`;
}

/** What refers to the name: a device, or the kind it has the entry from, a switch, a link, a VLAN; else the plan. */
function touchOfReference(devices: ReadonlyMap<string, Device>, first: Unresolved, by: readonly string[]): Touch {
  const [who = ''] = by;
  const [, word = '', name = ''] = /^(switch|link|VLAN) (.*)$/.exec(who) ?? [];
  if (word === 'switch' || word === 'link') return { kind: word, name };
  if (word === 'VLAN') return { kind: 'vlan', name };
  const device = devices.get(who) ?? devices.get(who.replace(/\/.*$/, ''));
  const kind =
    device?.kind !== undefined &&
    by.length > 1 &&
    first.origin.base === undefined &&
    writes(device.kind, first.origin.container)
      ? device.kind
      : undefined;
  if (kind !== undefined) return touchOfKind(kind);
  return device === undefined
    ? { kind: 'plan', name: first.origin.document.name }
    : { kind: 'device', name: device.name };
}

function writes(kind: Kind, entry: object): boolean {
  const { interfaces = [], senders = [], receivers = [] } = kind.origin.container as RawKind;
  return [
    ...interfaces,
    ...senders,
    ...receivers,
    ...[...senders, ...receivers].flatMap(({ legs = [] }) => legs),
  ].includes(entry);
}

interface RawKind {
  readonly interfaces?: readonly object[];
  readonly senders?: readonly { readonly legs?: readonly object[] }[];
  readonly receivers?: readonly { readonly legs?: readonly object[] }[];
}

/** One group for each name that leads nowhere, however many use it. */
function groups(unresolved: readonly Unresolved[]): Iterable<readonly Unresolved[]> {
  const found = new Map<string, Unresolved[]>();
  for (const one of unresolved) {
    const key = `${one.wanted}\n${one.text}`;
    const group = found.get(key);
    if (group === undefined) found.set(key, [one]);
    else group.push(one);
  }
  return found.values();
}

function markOf({ origin, key, by }: Unresolved): Mark {
  const place = { document: origin.document, container: origin.container };
  return { place: Object.hasOwn(origin.container, key) ? { ...place, key } : place, label: by };
}
