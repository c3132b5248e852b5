import { createEditList, likely } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  createFillsPorts,
  defineRule,
  mark,
  noted,
  PORT_SHARE,
  type Switch,
} from '../../../src/doors/rule.js';
import { floodedBystanders, type FloodedHost } from '../../../src/doors/igmp.js';
import { words, type Facts, type FloodedVlan, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'igmp/switch-not-snooping',
  summary: 'One switch does not snoop, so its hosts get every stream that passes it',
  severity: 'warning',
  sources: [clause('RFC 4541', '1'), clause('RFC 4541', '2.1.2')],
  needs: ['groups', 'switchPorts'],
  brief: 'does not snoop',
  *check({ plan, model, thresholdElsewhere }) {
    if (plan.switches.every(({ snooping }) => snooping !== false)) return;
    const fillsPorts = createFillsPorts(model, (rig) => thresholdElsewhere(PORT_SHARE, rig));
    const found = new Map<Switch, [FloodedVlan, ...FloodedVlan[]]>();
    for (const segment of model.groupSegments) {
      const { domain, forwarding, protocol } = segment;
      const off = forwarding?.segment.nodes.filter(({ snooping }) => snooping === false) ?? [];
      if (forwarding === undefined || off.length === 0 || segment.snooping === false || fillsPorts(forwarding))
        continue;
      const { hosts } = floodedBystanders(
        forwarding,
        segment.flows,
        'snooping off',
        (leg) => model.rates.onWire(leg)?.onPort,
      );
      for (const one of off) {
        const worst = worstOf(hosts.filter(({ host }) => host.port?.switch === one));
        if (worst === undefined) continue;
        const flooded = { protocol, where: domain.title, ...worst };
        const known = found.get(one);
        if (known === undefined) found.set(one, [flooded]);
        else known.push(flooded);
      }
    }
    for (const [one, vlans] of byLabel([...found], ([{ name }]) => name)) {
      yield {
        subject: `switch ${one.name}`,
        parties: [one.name],
        cure: () => {
          const edits = createEditList();
          edits.set(one, 'snooping', true);
          return likely(edits);
        },
        facts: { switch: one, vlans: byLabel(vlans, ({ where }) => where) },
        at: noted(mark(one, one.name, 'snooping'), 'off'),
        touch: { kind: 'switch', name: one.name },
      };
    }
  },
  words,
});

/** The host that gets most of what it did not ask for; of equals the one with the slower port. */
function worstOf(hosts: readonly FloodedHost[]): Pick<FloodedVlan, 'host' | 'floodBps' | 'rateBps'> | undefined {
  const [worst] = hosts.toSorted(
    (a, b) => b.floodBps - a.floodBps || (a.rateBps ?? Infinity) - (b.rateBps ?? Infinity),
  );
  return worst === undefined ? undefined : { host: worst.host, floodBps: worst.floodBps, rateBps: worst.rateBps };
}
