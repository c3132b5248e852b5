import { commonPractice, defineRule, portRanges, type RepeatedPort, type Switch } from '../../../src/lint/rule.js';

export default defineRule({
  id: 'ports/listed-twice',
  summary: 'A switch port is written in two entries',
  severity: 'error',
  sources: [commonPractice('each port is written once')],
  needs: [],
  *check({ plan }) {
    for (const [owner, repeated] of bySwitch(plan.repeatedPorts)) {
      const [first] = repeated;
      if (first === undefined) continue;
      const names = [...new Set(repeated.map((one) => one.name))];
      const differs = repeated.some(saysElse);
      const entries = new Set(repeated.flatMap((one) => [one.first.container, one.again.container]));
      entries.delete(first.again.container);
      const place = (
        container: object,
      ): { readonly document: typeof first.again.document; readonly container: object; readonly key: string } => ({
        document: repeated.find((one) => one.first.container === container)?.first.document ?? first.again.document,
        container,
        key: 'name',
      });
      yield {
        subject: `switch ${owner.name}`,
        parties: names.map((name) => `${owner.name}/${name}`),
        severity: differs ? 'error' : 'note',
        what: `${names.length === 1 ? 'port' : 'ports'} ${portRanges(names)} of switch ${owner.name} ${names.length === 1 ? 'is' : 'are'} written in two entries${differs ? ` that say different things: ${said(repeated)}` : ' that say the same'}`,
        at: {
          place: place(first.again.container),
          label: `again ${labelOf(repeated, first.again.container)}: ${wordsOf(first.again.container)}`,
        },
        others: [...entries].map((container) => ({
          place: place(container),
          label: `${labelOf(repeated, container)}: ${wordsOf(container)}`,
        })),
        onAir: differs
          ? 'the port gets configured one way or the other: whoever reads the other entry plugs into the wrong VLAN or rate; every other check here counts the entry written first'
          : 'nothing while both entries agree; one of them will be forgotten at the next change',
        fix: `write each port once: take ${portRanges(names)} out of one of the two entries`,
        touch: { kind: 'switch', name: owner.name },
      };
    }
  },
});

function bySwitch(repeated: readonly RepeatedPort[]): ReadonlyMap<Switch, readonly RepeatedPort[]> {
  const groups = new Map<Switch, RepeatedPort[]>();
  for (const one of repeated) {
    const group = groups.get(one.switch);
    if (group === undefined) groups.set(one.switch, [one]);
    else group.push(one);
  }
  return groups;
}

const SAID = ['rate', 'access', 'trunk', 'native', 'mtu'];

function saysElse({ first, again }: RepeatedPort): boolean {
  const text = (container: object): string => JSON.stringify(SAID.map((key) => valueOf(container, key) ?? null));
  return text(first.container) !== text(again.container);
}

/** What the entries of the first port that differs say, side by side. */
function said(repeated: readonly RepeatedPort[]): string {
  const one = repeated.find(saysElse);
  if (one === undefined) return '';
  const keys = SAID.filter(
    (key) => JSON.stringify(valueOf(one.first.container, key)) !== JSON.stringify(valueOf(one.again.container, key)),
  );
  return [one.first, one.again]
    .map(({ container }) => `${labelOf(repeated, container)} has ${wordsOf(container, keys)}`)
    .join(', ');
}

function wordsOf(container: object, keys: readonly string[] = SAID): string {
  const words = keys.flatMap((key) => {
    const value = valueOf(container, key);
    return value === undefined
      ? []
      : [
          `${key} ${Array.isArray(value) ? value.join(', ') : typeof value === 'object' ? JSON.stringify(value) : value}`,
        ];
  });
  return words.length === 0 ? `no ${keys.join(' or ')}` : words.join(', ');
}

function valueOf(container: object, key: string): string | number | object | undefined {
  return (container as Readonly<Record<string, string | number | object>>)[key];
}

function labelOf(repeated: readonly RepeatedPort[], container: object): string {
  const owner = repeated[0]?.switch.name ?? '';
  return `${owner}/${(container as { readonly name: string | number }).name}`;
}
