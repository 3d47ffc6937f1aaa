/** The sheets that lie beside the ribbon, one at a time. */
export type PanelName =
  'charts' | 'text' | 'practice' | 'drills' | 'plan' | 'ear' | 'take' | 'band' | 'neck' | 'files' | 'help';

export const PANELS: readonly { readonly name: PanelName; readonly label: string }[] = [
  { name: 'charts', label: 'Charts' },
  { name: 'text', label: 'Text' },
  { name: 'practice', label: 'Practice' },
  { name: 'drills', label: 'Drills' },
  { name: 'plan', label: 'Plan' },
  { name: 'ear', label: 'Ear' },
  { name: 'take', label: 'Take' },
  { name: 'band', label: 'Band' },
  { name: 'neck', label: 'Neck' },
  { name: 'files', label: 'Files' },
  { name: 'help', label: 'Help' },
];
