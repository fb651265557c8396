/** English words of Semen. Keys begin with `semen.`, `action.` or `problem.`. */
export const semen = {
  'semen.strangers': 'strangers',

  'action.add-tube': 'wrote down a tube',
  'action.collect': 'collected semen',
  'action.correct-line': 'corrected a line of a tube',
  'action.keep-tube': 'said how a tube is kept',
  'action.receive-semen': 'received semen',
  'action.step-tube': 'wrote a step of a tube',
  'action.tally-drones': 'tallied drones',

  'problem.tube-code-taken': 'A tube that still holds semen bears the code {code}. Give one of them another code.',
  'problem.drawn-from-itself': 'A tube cannot be drawn over from itself. Choose the other tube.',
  'problem.end-below-start': 'The reading after ({end} µl) is below the one before ({start} µl). Check both.',
  'problem.no-such-source': 'This mother is not among those of the catch. Choose one of them.',
  'problem.tube-soiled': 'Faeces got into this tube. Do not use it; see which queens were served from it.',
  'problem.line-withdrawn': 'This line was withdrawn. Write a new line instead.',
  'problem.no-drone-mother': 'No drone mother is named. These drones count as strangers.',
  'problem.nobody-laid-them': 'The book knows no queen who laid here from {from} to {to}. Say who the mother is.',
  'problem.which-mother-laid-them':
    'These drones were laid from {from} to {to}, when {queens} queens may have laid here. Say which.',
  'problem.more-left-than-taken': 'More drones are left over ({left}) than were taken ({taken}). Count again.',
  'problem.more-gave-than-tried': 'More drones gave ({gave}) than were tried ({tried}). Count again.',
  'problem.more-reasons-than-failures': 'More reasons ({reasons}) than drones that gave nothing ({failures}).',
  'problem.drones-after-their-mother': 'She ended {days} days before. Few drones live so long.',
  'problem.drones-long-after-their-mother': 'She ended {days} days before. No drone of hers lives so long.',
  'problem.holder-requeened-too-recently':
    'She headed this colony for {days} days only; her drones need {needs}. They are her predecessor’s.',
  'problem.volume-not-read': 'The volume of this line was not read.',
  'problem.semen-of-unknown-origin': 'Nobody wrote down where this semen came from.',
  'problem.layers-split-the-mothers':
    'The tube is filled in layers: the first queens would get one mother’s drones, the last the other’s.',
  'problem.semen-older-than-its-evidence':
    'At {days} days it is older than anything that was measured ({reaches} days).',
} as const;
