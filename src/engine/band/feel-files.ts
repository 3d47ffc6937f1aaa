// Written by src/tools/feels.mjs from what lies in presets/feels; not by hand.
import feel0 from '../../../presets/feels/ballad-in-two.json' with { type: 'json' };
import feel1 from '../../../presets/feels/ballad.json' with { type: 'json' };
import feel2 from '../../../presets/feels/bossa.json' with { type: 'json' };
import feel3 from '../../../presets/feels/five-four.json' with { type: 'json' };
import feel4 from '../../../presets/feels/five-in-two.json' with { type: 'json' };
import feel5 from '../../../presets/feels/jazz-waltz.json' with { type: 'json' };
import feel6 from '../../../presets/feels/shuffle-in-two.json' with { type: 'json' };
import feel7 from '../../../presets/feels/shuffle.json' with { type: 'json' };
import feel8 from '../../../presets/feels/straight-eighths-in-two.json' with { type: 'json' };
import feel9 from '../../../presets/feels/straight-eighths.json' with { type: 'json' };
import feel10 from '../../../presets/feels/straight-sixteenths.json' with { type: 'json' };
import feel11 from '../../../presets/feels/swing.json' with { type: 'json' };
import feel12 from '../../../presets/feels/two-feel.json' with { type: 'json' };
import feel13 from '../../../presets/feels/waltz-in-one.json' with { type: 'json' };

/** Every feel in `presets/feels`, as it stands in its file. */
export const FEEL_FILES: readonly unknown[] = [
  feel0,
  feel1,
  feel2,
  feel3,
  feel4,
  feel5,
  feel6,
  feel7,
  feel8,
  feel9,
  feel10,
  feel11,
  feel12,
  feel13,
];
