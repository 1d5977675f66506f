/** What nobody should have to look for where water and mains meet. They judge nothing. */
export const electricityCautions: readonly { title: string; text: string }[] = [
  {
    title: 'What this is not',
    text:
      'These are the usual cautions, not a judgement of your installation. Local codes and the ' +
      'makers’ instructions govern; fixed wiring, added circuits and anything near water are for a ' +
      'licensed electrician.',
  },
  {
    title: 'Continuous load',
    text:
      'Lamps that burn three hours or more count as continuous: in the United States breaker and ' +
      'conductors are then laid out for 125 % of them, so that they take at most 80 % of the ' +
      'breaker. Elsewhere ask. Drivers draw a surge when they switch on and may trip a breaker ' +
      'well below that.',
  },
  {
    title: 'Residual-current protection',
    text:
      'Lamps and pumps by the water belong behind personal protection (RCD of 30 mA, or GFCI of ' +
      '4 to 6 mA). Press its test button before every trial.',
  },
  {
    title: 'Drip loops',
    text: 'Let every lead hang below its socket before it rises to it, so that water drips off.',
  },
  {
    title: 'Height over the water',
    text:
      'Sockets, adapters and drivers hang higher than the highest water, and never under a tray, a ' +
      'pipe or a joint.',
  },
  {
    title: 'Ingress protection',
    text:
      'The second digit of an IP code tells of water: 1 dripping, 4 splashing, 5 jets, 7 a short ' +
      'dip, 8 lasting immersion. The code of a lamp does not cover its plug.',
  },
];
