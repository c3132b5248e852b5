import { byLabel, commonPractice, defineRule, listNames, type Mark, type Unresolved } from '../../../src/lint/rule.js';

export default defineRule({
  id: 'plan/unknown-reference',
  summary: 'A name that leads nowhere',
  severity: 'error',
  sources: [commonPractice('a name that is used is written down somewhere')],
  needs: [],
  *check({ plan }) {
    for (const uses of groups(plan.unresolved)) {
      const sorted = byLabel(uses, (one) => one.by);
      const [first, ...rest] = sorted;
      if (first === undefined) continue;
      const { wanted, text } = first;
      const by = [...new Set(sorted.map((one) => one.by))];
      const suggestion = byLabel(
        sorted.flatMap((one) => one.suggestion ?? []),
        (name) => name,
      ).find((name) => isLikely(wanted, text, name));
      const thing = thingOf(wanted, `\`${text}\``);
      yield {
        subject: thingOf(wanted, text),
        parties: by,
        what: `${listNames(by)} ${by.length === 1 ? 'refers' : 'refer'} to ${thing}, which is not in the plan${suggestion === undefined ? '' : `; did you mean \`${suggestion}\`?`}`,
        at: markOf(first),
        others: rest.map(markOf),
        onAir:
          ON_AIR[wanted.replace(/ of .*$/, '')] ??
          'what this name ties together is not tied: it gets configured on site from memory, and no rule here can check it',
        fix:
          suggestion === undefined
            ? `write down ${thing}, or correct the name`
            : `write \`${suggestion}\`, or write down ${thing} if it is another one`,
        touch: { kind: 'plan', name: first.origin.document.name },
      };
    }
  },
});

const TAKEN = 'the receiver is connected to whatever sounds right, or to nothing: the wrong picture or none';
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
