import { legLabel, listNames, type FindingWords, type Leg } from '../../../src/doors/rule.js';

export interface Facts {
  readonly group: string;
  /** Where all of them are heard: `network red`. */
  readonly where: string;
  readonly legs: readonly Leg[];
  readonly senders: number;
  /** False where they can be told apart by their UDP ports. */
  readonly onePort: boolean;
  /** They stand in parts of one VLAN that nothing joins today. */
  readonly apart: boolean;
  /** A group for the one to move. */
  readonly free: string | undefined;
}

export function words({ group, where, legs, senders, onePort, apart, free }: Facts): FindingWords<'move'> {
  return {
    what: `group ${group} in ${where} has ${senders} senders: ${listNames(legs.map(legLabel))}${onePort ? '' : ', on different UDP ports'}${apart ? ', in parts that nothing joins today' : ''}`,
    onAir: `${apart ? 'nothing while the VLAN is cut; once a trunk joins its parts ' : ''}${onAirWords(onePort)}`,
    fix: `leave ${group} to one sender and give each of the others a group nobody else uses${free === undefined ? '' : `; ${free} is free`}`,
    label: (name) => `${name}: give this one another group`,
  };
}

function onAirWords(onePort: boolean): string {
  return onePort
    ? 'every receiver of any of them gets all of them: pictures break up or freeze, sound is garbled, as soon as the second one starts'
    : 'the network delivers all of them to every receiver of any: each port carries the sum of their rates, and a full port drops packets';
}
