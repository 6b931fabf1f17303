export default {
  template: `
    <label class="bw-field" :title="help">
      <span class="bw-label">{{ label }}</span>
      <select :value="value" @change="$emit('choose', $event.target.value)" :data-mark="mark">
        <option v-for="(words, key) in options" :key="key" :value="key">{{ words }}</option>
      </select>
    </label>`,
  props: { label: String, options: Object, value: String, help: String, mark: String },
};
