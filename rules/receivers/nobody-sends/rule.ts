import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  formatAddress,
  groupBy,
  inRange,
  listNames,
  mark,
  nothingOf,
  otherPlaces,
  ownerLabel,
  receiverLegLabel,
  type Address,
  type Domain,
  type GroupUse,
  type Model,
  type ReceiverLeg,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'receivers/nobody-sends',
  summary: 'A receiver joins a group, or a source of it, that nothing in the plan sends where it stands',
  severity: 'error',
  sources: [
    clause('RFC 1112', '4'),
    clause('RFC 4607', '1'),
    commonPractice('a plan lists every stream its receivers take'),
  ],
  needs: ['groups', 'receivers'],
  *check({ plan, model }) {
    const silent = plan.receiverLegs.filter(
      (leg) => leg.takes === undefined && leg.groupStated && isSilent(leg, model),
    );
    for (const [domain, inDomain] of groupBy(silent, (leg) => model.domains.reach(leg))) {
      for (const [group, ofGroup] of groupBy(inDomain, (leg) => leg.group)) {
        for (const [source, unordered] of groupBy(ofGroup, (leg) => leg.source ?? 'any')) {
          const legs = byLabel(unordered, receiverLegLabel);
          const [first, ...rest] = legs;
          if (first === undefined) continue;
          const names = legs.map(receiverLegLabel);
          const asked =
            source === 'any' ? formatAddress(group) : `${formatAddress(group)} from ${formatAddress(source)}`;
          const use = model.reception.useOf(first);
          const about =
            use === undefined ? unsent(first, source, model.groups.usesOf(group), model) : otherSources(use);
          const key = use === undefined ? 'group' : 'source';
          const at = mark(first, `${receiverLegLabel(first)}: joins ${asked}`, key);
          yield {
            subject: `${asked} in ${domain.key}`,
            parties: [...names, ...about.parties],
            severity: use !== undefined || isOurs(group, source, first, model) ? 'error' : 'warning',
            what: `${listNames(names)} ${legs.length === 1 ? 'joins' : 'join'} ${asked}, but ${about.what}`,
            at,
            others: otherPlaces(at, [...rest.map((leg) => mark(leg, receiverLegLabel(leg), key)), ...about.marks]),
            onAir: `the receiver waits for ever: ${nothingOf(legs.map((leg) => ({ essence: undefined, format: leg.receiver.format })))} on it, though every light is green`,
            fix: about.fix,
            touch: { kind: 'device', name: first.receiver.device.name },
          };
        }
      }
    }
  },
});

/** Nobody sends the group, in a domain where the plan has senders of groups; or nobody sends it from the stated source. */
function isSilent(leg: ReceiverLeg, model: Model): boolean {
  const { reception, domains } = model;
  const use = reception.useOf(leg);
  if (use === undefined) return reception.anySentIn(domains.reach(leg));
  if (leg.source === undefined) return false;
  const sources = reception.legsBySource(use);
  return !sources.has(leg.source) && !sources.has(undefined);
}

/** The stated source is a device of this plan, or the house promises to give out the group itself. */
function isOurs(group: Address, source: Address | 'any', leg: ReceiverLeg, model: Model): boolean {
  if (source !== 'any' && model.owners.byAddress.has(source)) return true;
  return leg.receiver.rig.house.groups.some(({ ranges }) => ranges.some((range) => inRange(group, range)));
}

interface About {
  readonly what: string;
  readonly fix: string;
  readonly parties: readonly string[];
  readonly marks: readonly ReturnType<typeof mark>[];
}

function unsent(leg: ReceiverLeg, source: Address | 'any', elsewhere: readonly GroupUse[], model: Model): About {
  const domain = model.domains.reach(leg);
  const owners = source === 'any' ? [] : byLabel(model.owners.byAddress.get(source) ?? [], ownerLabel);
  const [owner] = owners;
  const whose = owner === undefined || source === 'any' ? '' : `; ${formatAddress(source)} is ${ownerLabel(owner)}`;
  const uses = byLabel(elsewhere, (use) => use.domain.title);
  const senders = byLabel(
    uses.flatMap((use) => use.legs),
    (one) => one.sender.label,
  );
  const names = [...new Set(senders.map((one) => one.sender.label))];
  const where =
    uses.length === 0
      ? ''
      : `; ${listNames(names)} ${names.length === 1 ? 'sends' : 'send'} it in ${listNames(uses.map((use) => use.domain.title))}`;
  return {
    what: `nothing in the plan sends this group in ${domain.title}${where}${whose}`,
    fix: `${meant(leg, domain, model)}${uses.length === 0 ? '' : ', or receive it where it is sent'}; if the stream comes from outside this plan, list it under \`streams\` with its group`,
    parties: [...owners.map(ownerLabel), ...names],
    marks: [
      ...owners.map((one) => mark(one, ownerLabel(one))),
      ...senders.map((one) => mark(one, `${one.sender.label}: sends this group elsewhere`, 'group')),
    ],
  };
}

/** The other leg of the receiver tells which stream is meant. */
function meant(leg: ReceiverLeg, domain: Domain, model: Model): string {
  for (const sibling of leg.receiver.legs) {
    const senders = sibling === leg ? [] : [...new Set(model.reception.heard(sibling).map(({ sender }) => sender))];
    const [sender] = senders;
    const group =
      senders.length === 1
        ? sender?.legs.find((one) => one.group !== undefined && model.domains.reach(one) === domain)?.group
        : undefined;
    if (sender !== undefined && group !== undefined)
      return `join ${formatAddress(group)}, as the other leg takes ${sender.label}`;
  }
  return 'correct the group';
}

function otherSources(use: GroupUse): About {
  const senders = byLabel(use.legs, (leg) => leg.sender.label);
  const sources = senders.map(
    (leg) => `${leg.source === undefined ? '' : formatAddress(leg.source)} (${leg.sender.label})`,
  );
  return {
    what: `there it comes only from ${listNames(sources)}`,
    fix: `join it from ${listNames(sources).replaceAll(' and ', ' or ')}`,
    parties: senders.map((leg) => leg.sender.label),
    marks: senders.map((leg) => mark(leg, `${leg.sender.label}: sends this group`, 'group')),
  };
}
