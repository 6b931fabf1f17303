let made = 0;
export default {
  template: `
    <label class="bw-field" :title="help">
      <span class="bw-label">{{ label }}<span v-if="unit" class="bw-unit"> {{ unit }}</span></span>
      <input type="text" :inputmode="plain ? 'text' : 'decimal'" v-model="typed" autocomplete="off"
             :aria-invalid="error ? 'true' : 'false'" :aria-describedby="error ? name : null"
             :data-mark="mark" :placeholder="placeholder"
             @change="$emit('typed', typed)" @keydown.escape.stop="typed = shown" />
      <span v-if="error" class="bw-wrong" :id="name" role="alert">{{ error }}</span>
    </label>`,
  props: {
    label: String, unit: String, shown: String, error: String, help: String, mark: String,
    plain: Boolean, placeholder: String,
  },
  data() {
    return { typed: this.shown, name: "bw-wrong-" + ++made };
  },
  watch: {
    shown(value) {
      this.typed = value;
    },
  },
};
