import { certainly, createEditList, likely, bindingOf } from '../../../src/doors/cures.js';
import {
  byLabel,
  commonPractice,
  defineRule,
  formatAddress,
  legLabel,
  mark,
  noted,
  portLabel,
  receiverLegLabel,
} from '../../../src/doors/rule.js';
import { missingBindings } from '../../../src/doors/groups.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'groups/not-bound',
  summary: 'A switch whose groups are bound to ports by hand leaves out one that somebody takes',
  severity: 'error',
  sources: [commonPractice('a switch without snooping sends bound groups to their ports alone')],
  needs: ['groups', 'receivers', 'switchPorts'],
  brief: 'group missing in a bound table',
  explains: ['not bound'],
  *check({ model, plan }) {
    if (plan.switches.every(({ forwarding }) => forwarding !== 'static')) {
      if (plan.vlans.every(({ forwarding }) => forwarding !== 'static')) return;
    }
    const tables = missingBindings(model.verdicts, model.network);
    for (const { switch: one, domain, groups, isStated } of byLabel(
      tables,
      (it) => `${it.switch.name} ${it.domain.key}`,
    )) {
      const takers = byLabel([...new Set(groups.flatMap((it) => it.takers))], receiverLegLabel);
      const legs = byLabel([...new Set(takers.flatMap(({ takes }) => takes ?? []))], legLabel);
      const ports = [...new Set(groups.flatMap((it) => it.ports.flat()))];
      yield {
        subject: `bindings of ${one.name} in ${domain.key}`,
        parties: [one.name, ...takers.map(receiverLegLabel), ...legs.map(legLabel)],
        severity: isStated ? 'error' : 'warning',
        confidence: isStated ? 'certain' : 'assumed',
        cure: () => {
          const edits = createEditList();
          const [vlan] = domain.vlans.length === 1 ? domain.vlans : [];
          for (const { group, ports: missing } of groups)
            edits.append(
              one,
              'bindings',
              bindingOf(
                vlan,
                formatAddress(group),
                missing.flatMap(([port]) => port ?? []),
              ),
            );
          return isStated ? certainly(edits) : likely(edits);
        },
        facts: {
          switch: one,
          domain,
          isStated,
          groups: groups.map((it) => ({ ...it, group: formatAddress(it.group) })),
          takers,
        },
        at: noted(mark(one, one.name, 'bindings'), 'table'),
        others: [
          ...byLabel(ports, portLabel).map((port) => mark(port, portLabel(port), 'name')),
          ...takers.map((leg) => noted(mark(leg, receiverLegLabel(leg), 'interface'), 'takes' as const)),
        ],
        touch: { kind: 'switch', name: one.name },
      };
    }
  },
  words,
});
