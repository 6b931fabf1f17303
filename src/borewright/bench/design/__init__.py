"""The Body view: the instrument in section, draggable, with its pitches beneath."""
