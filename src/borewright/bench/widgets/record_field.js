let made = 0;
// One field of a form. What is typed stays here, whatever else on the page is drawn anew: it
// changes only when `turn` counts on, which the server does where it means to.
export default {
  template: `
    <div class="bw-field bw-record-field" :class="{ 'bw-long': sort === 'lines' }">
      <label class="bw-label" :for="name">{{ label }}<span v-if="needed"> *</span></label>
      <select v-if="sort === 'choice'" :id="name" v-model="typed" v-bind="common" @change="tell">
        <option v-for="[key, words] in options" :key="key" :value="key">{{ words }}</option>
      </select>
      <textarea v-else-if="sort === 'lines'" :id="name" v-model="typed" v-bind="common" rows="2"
                @input="tell"></textarea>
      <input v-else :id="name" :type="sort === 'day' ? 'date' : 'text'" v-model="typed"
             :inputmode="sort === 'number' ? 'decimal' : null" v-bind="common" autocomplete="off"
             @input="tell" @change="tell" />
      <span v-if="note" class="bw-small" :id="name + '-note'">{{ note }}</span>
      <span v-if="error" class="bw-wrong" :id="name + '-wrong'" role="alert">{{ error }}</span>
    </div>`,
  props: {
    label: String, sort: String, options: Array, shown: String, turn: Number, needed: Boolean,
    note: String, error: String, mark: String,
  },
  data() {
    return { typed: this.shown, name: "bw-record-" + ++made };
  },
  computed: {
    common() {
      const about = [this.note && this.name + "-note", this.error && this.name + "-wrong"];
      return {
        "data-mark": this.mark,
        "aria-required": this.needed ? "true" : "false",
        "aria-invalid": this.error ? "true" : "false",
        "aria-describedby": about.filter(Boolean).join(" ") || null,
      };
    },
  },
  watch: {
    turn() {
      this.typed = this.shown;
    },
  },
  methods: {
    tell(event) {
      // A day that is typed by half is empty to the page; the server must not take it for none.
      this.$emit("typed", event.target.validity.badInput ? "…" : this.typed);
    },
  },
};
