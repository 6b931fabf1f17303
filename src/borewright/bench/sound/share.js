// One share between two instruments: a labelled native slider.
export default {
  template: `
    <label class="bw-field">
      <span class="bw-label">{{ label }}: {{ value }} %</span>
      <input type="range" min="0" max="100" step="5" :value="value" :data-mark="mark"
             :aria-valuetext="value + ' %'" @change="$emit('share', { value: +$event.target.value })">
    </label>`,
  props: { label: String, value: Number, mark: String },
};
