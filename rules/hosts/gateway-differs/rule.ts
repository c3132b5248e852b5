import { certainly, createEditList, likely, peopleDecide, type Cure } from '../../../src/doors/cures.js';
import {
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  heldFact,
  inRig,
  mapAll,
  mark,
  noted,
  ownerLabel,
  routerAddress,
  vlanSubject,
  type Address,
} from '../../../src/doors/rule.js';
import { wrongGateways, type WrongGateway } from '../../../src/doors/hosts.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'hosts/gateway-differs',
  summary: 'The gateway of an interface is not the gateway of its VLAN',
  severity: 'error',
  sources: [clause('RFC 1122', '3.3.1.1'), clause('RFC 1122', '3.3.1.2'), clause('RFC 1122', '3.3.1.6')],
  needs: ['hostGateways'],
  brief: "gateway differs from the VLAN's",
  harm: 'unicast',
  *check({ plan, model }) {
    for (const wrong of wrongGateways(plan, model)) {
      const { fault, vlan, interfaces, subnet, right, otherRouter } = wrong;
      const [first] = interfaces;
      const gateway = formatAddress(wrong.gateway);
      const router =
        vlan === undefined || subnet === undefined ? undefined : routerAddress(vlan, subnet, model.addressing);
      const doubtful = wrong.outvotes && vlan !== undefined && right !== undefined;
      const [mine, ...marks] = mapAll(interfaces, (one) => mark(one, ownerLabel(one), 'gateway'));
      const vlanMarks = vlan === undefined || right === undefined ? [] : [mark(vlan, `VLAN ${vlan.name}`, right.key)];
      yield {
        subject:
          fault === 'own' || vlan === undefined
            ? `${gateway} on ${ownerLabel(first)}${inRig(first.device.rig)}`
            : `${gateway} in ${vlanSubject(vlan)}`,
        parties: [...interfaces.map(ownerLabel), ...(vlan === undefined ? [] : [vlan.name])],
        severity: otherRouter ? 'warning' : 'error',
        ...(doubtful ? { confidence: 'likely' } : {}),
        cure: () => cure(wrong, router?.address, doubtful),
        facts: {
          gateway,
          fault,
          interfaces,
          vlan,
          subnet: subnet === undefined ? undefined : formatPrefix(subnet),
          right: right === undefined ? undefined : formatAddress(right.address),
          otherRouter,
          vlanInDoubt: doubtful,
          router: router === undefined ? undefined : heldFact(router),
        },
        ...(doubtful
          ? {
              at: noted(mark(vlan, `VLAN ${vlan.name}`, right.key), 'doubt'),
              others: [mine, ...marks],
              touch: { kind: 'vlan', name: vlan.name },
            }
          : {
              at: noted(mine, 'gateway'),
              others: [...marks, ...vlanMarks],
              touch: { kind: 'device', name: first.device.name },
            }),
      };
    }
  },
  words,
});

/** The boxes take the VLAN's gateway, or its router's; where most boxes agree on another, the VLAN takes theirs. */
function cure(
  { gateway, vlan, interfaces, right, otherRouter }: WrongGateway,
  router: Address | undefined,
  doubtful: boolean,
): Cure {
  const edits = createEditList();
  if (doubtful && vlan !== undefined && right !== undefined) {
    edits.set(vlan, right.key, formatAddress(gateway));
    return likely(edits);
  }
  const wanted = right?.address ?? router;
  if (wanted === undefined) return peopleDecide('whether anything outside is needed, and what routes there');
  for (const one of interfaces) edits.set(one, 'gateway', formatAddress(wanted));
  return otherRouter || right === undefined ? likely(edits) : certainly(edits);
}
