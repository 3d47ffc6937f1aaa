import type { PanelName } from '../panels/panels.ts';

/** A setting, or a thing to do, that has its place in a sheet. */
export interface Place {
  readonly name: string;
  readonly sheet: PanelName;
  /** The caption of its control there, from its beginning. */
  readonly label: string;
  /** What a player might call it. */
  readonly words: string;
}

const at =
  (sheet: PanelName) =>
  (name: string, label: string, words = ''): Place => ({ name, sheet, label, words });

const charts = at('charts');
const text = at('text');
const practice = at('practice');
const plan = at('plan');
const ear = at('ear');
const take = at('take');
const band = at('band');
const neck = at('neck');
const files = at('files');
const help = at('help');

/** Where everything is that no key does, sheet by sheet. The words are our choice: how players ask. */
export const PLACES: readonly Place[] = [
  charts('Find a chart', 'Find a chart', 'search tune song preset blues library open'),
  text('Title of the chart', 'Title', 'name rename'),
  text('How a chart is written', 'How a chart is written', 'syntax notation help bars repeat endings coda'),
  practice('Loop this chord and where it goes', 'Loop', 'snippet repeat section resolve'),
  practice('Rest after each round', 'Rest after each round', 'pause silence break between rounds'),
  practice('Count each round in', 'Count each round in', 'count-in metronome loop'),
  practice(
    'Ladder: the tempo by steps',
    'Change the tempo by steps',
    'speed up slower faster gradually bpm trainer',
  ),
  practice(
    'Key round: through the keys',
    'Order of keys',
    'transpose all twelve keys circle of fifths fourths',
  ),
  practice('Switching: plain and altered by turns', 'Each dominant', 'alternate altered every other chorus'),
  practice('Hide what is altered', 'Hide what is altered', 'blind ear test listen'),
  practice('Bars left to you', 'Silent', 'drop out mute band time feel test silent bars'),
  plan('A plan of your own', 'Lasts', 'session routine schedule create practice'),
  plan('Say each step aloud', 'Say each step aloud', 'voice speak hands free'),
  plan('Remind me to rest', 'Remind me to rest', 'break timer hand pain minutes'),
  plan('What was practised', 'What was practised', 'log diary history statistics minutes'),
  ear('Colours to be asked about', 'Asked about', 'ear training quiz recognise treatments'),
  take(
    'Latency: from loudspeaker to recording',
    'From loudspeaker to recording',
    'delay late microphone measure offset',
  ),
  band('How long a tap alters', 'A tap alters', 'length beats alter pedal'),
  band(
    'What Alter sounds like',
    'It sounds',
    'kind treatment tritone substitution lydian dominant diminished whole tone sus',
  ),
  band('Rules: which dominants are altered', 'Rules', 'automatic every chorus chance secondary dominants'),
  band('Mixer', 'Mixer', 'volume level loud quiet mute solo pan tone balance bass treble'),
  band('Key of the chart', 'Key', 'transpose capo singer'),
  band('Feel', 'Feel', 'style rhythm bossa waltz ballad shuffle funk latin straight swing five'),
  band('Swing follows the tempo', 'Swing follows the tempo', 'ratio triplet straight eighths shuffle'),
  band('Playing soft or hard', 'Playing', 'dynamics intensity loud'),
  band('Time feel: ahead or behind the beat', 'Time feel', 'lay back push drag laid-back'),
  band('In two', 'In two', 'two-feel half notes bass'),
  band('Bars for you: trading', 'Bars for you', 'trade fours eights solo drums'),
  band('Over the rounds: the band builds', 'Over the rounds', 'arrangement dynamics build intensity chorus'),
  band('Chords on piano, electric piano or guitar', 'Chords on', 'instrument sound comping'),
  band('Voicings', 'Voicings', 'rootless drop-2 shell fourths quartal chord'),
  band('Comping rhythm', 'Comping rhythm', 'charleston four to the bar strum'),
  band('Comping sparse or busy', 'Comping', 'density space'),
  band('Bass: pedal', 'Pedal', 'pedal point drone organ'),
  band('Hits', 'Show the row for hits', 'kicks stabs accents arrangement'),
  band('Count-in', 'Count-in', 'click metronome bars before'),
  band('Other notes for the same chart', 'Other notes', 'seed random variation another take different'),
  neck('Neck, keys or neither', 'Beside what sounds', 'fretboard guitar bass piano keyboard show hide'),
  neck('Scale or chord tones on the neck', 'Notes', 'arpeggio fretboard'),
  neck('Forms: how the neck is laid out', 'Laid out', 'position caged box window three notes per string'),
  neck('How the chord is held', 'Show how the chord', 'grip fingering diagram voicing'),
  neck('Tuning', 'Tuning', 'drop D open strings seven eight string bass ukulele own'),
  neck('Capo', 'Capo', 'fret'),
  neck('Left-handed', 'Hand that plucks', 'lefty left handed right mirror'),
  neck('Part of the neck', 'As many frets', 'range frets'),
  neck(
    'Names for another instrument',
    'Named for',
    'transposing tenor alto trumpet saxophone horn B flat E flat',
  ),
  files('A link to this chart', 'A link', 'share send student QR code URL hand over'),
  files('Save the chart as a file', 'Save as a file', 'export download backup json'),
  files('Open a chart file', 'Open a file', 'import load'),
  files('Sound file', 'Sound file', 'WAV audio export render track mp3 stems save backing'),
  files('Lead sheet for notation programs', 'Save as MusicXML', 'musicxml export score sheet print mxl'),
  files('The band as MIDI', 'Save as MIDI', 'midi file export sequencer daw'),
  files('Open MusicXML', 'Open MusicXML', 'import lead sheet'),
  help(
    'Keys and pedals',
    'Keys and pedals',
    'foot pedal switch bluetooth page turner shortcut remap hotkey keyboard',
  ),
  help('Learn a MIDI pedal', 'MIDI pedal', 'foot controller footswitch device midi'),
  help('Single letters act as keys', 'Single letters', 'shortcuts off accessibility'),
  help('Light: day or night', 'Light', 'dark mode theme bright colours'),
  help('How chord symbols are shown', 'Chord symbols', 'delta triangle minus major seven letters signs'),
  help('How notes of scales are spelled', 'Notes of scales', 'sharps flats enharmonic double'),
  help('Announce each chord', 'Announce each chord', 'screen reader voice over blind speak'),
  help('Take the tour', 'Take the tour', 'introduction tutorial learn begin start new'),
  help('Read the guide', 'Read the guide', 'manual documentation pictures instructions how'),
  help('Sounds, fonts and licences', 'Sounds and fonts', 'credits about licence version'),
];
