import type { Project } from '../engine/index.ts';
import type { Credit, Exchange, MidiOutPort, PlayerPort, Preset, RenderPort, ScorePort } from './ports.ts';
import type { PreferenceKeeper } from './preferences.svelte.ts';

/** What the session is given by the one who builds it. */
export interface SessionPorts {
  readonly player: PlayerPort;
  /** The charts that come with the app; they may be read when first asked for. */
  readonly presets: readonly Preset[];
  readonly project: Project;
  /** Called with each new state of the project, for keeping it. */
  readonly keep?: (project: Project) => void;
  readonly preferences?: PreferenceKeeper;
  readonly exchange?: Exchange;
  readonly render?: RenderPort;
  readonly scores?: ScorePort;
  readonly midiOut?: MidiOutPort;
  /** Whose the sounds are. */
  readonly credits?: readonly Credit[];
}
