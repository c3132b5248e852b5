import { linkLabel, type FindingWords, type Link, type Switch } from '../../../src/doors/rule.js';

export interface Facts {
  /** `port`: both ends are one. `switch`: they are two of one switch. */
  readonly form: 'port' | 'switch';
  readonly link: Link;
  readonly switch: Switch;
  /** The first end as written: `leaf-a/12`. */
  readonly end: string;
}

export function words({ form, link, end, ...facts }: Facts): FindingWords {
  const fix = 'name the far end the link really has, or take the link out';
  if (form === 'port')
    return {
      what: `link ${linkLabel(link)} has the same port, ${end}, at both ends`,
      onAir: 'the link does not exist: what it was meant to join is not joined',
      fix,
    };
  return {
    what: `link ${linkLabel(link)} leads from switch ${facts.switch.name} to itself`,
    onAir:
      'a loop: without a protocol that blocks it, one broadcast circles until the switch and everything on it stand still; with one, the link does nothing',
    fix,
  };
}
