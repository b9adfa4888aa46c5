// Values as members of an exchange document. Private to storage.
#pragma once

#include "storage/codec.h"
#include "storage/evidence.h"
#include "storage/exchange_members.h"

#include <nlohmann/json.hpp>

namespace rw::store {

class Writer {
public:
    using Json = nlohmann::ordered_json;
    template<class Thing>
    [[nodiscard]] static Json object(Thing thing) {
        Writer writer;
        members(writer, thing);
        return std::move(writer.out_);
    }
    // With its head; references are the ids of this garage.
    template<class Thing>
    [[nodiscard]] static Json item(Thing thing) {
        Writer writer;
        writer.out_ = {{"id", toString(thing.id)}, {"kind", kindName(thing.id.kind)}};
        ItemHead head = headOf(thing);
        members(writer, head), members(writer, thing);
        return std::move(writer.out_);
    }

    void operator()(const char* name, const auto& value) { out_[name] = json(value); }
    template<class T>
    void ifAny(const char* name, const T& value) {
        if (value != T{}) out_[name] = json(value);
    }
    template<class T>
    void within(const char* name, const T& value, int, int, const char*) {
        out_[name] = json(value);
    }
    void word(const char* name, const auto& value, const auto& nameOf, const auto&...) { out_[name] = nameOf(value); }
    void packed(const PackedLog& log) {
        out_["sha256"] = log.sha256, out_["size"] = log.size, out_["bytes"] = base64Encode(log.zstd);
    }

private:
    static Json json(const std::string& text) { return text; }
    static Json json(bool value) { return value; }
    static Json json(int number) { return number; }
    static Json json(std::int64_t number) { return number; }
    static Json json(double number) { return number; }
    static Json json(Id id) { return toString(id); }
    static Json json(const Evidence& evidence) { return writeEvidence(evidence); }
    static Json json(const LearnedInput& learned) { return writeLearnedInput(learned); }
    static Json json(const Figures& figures) { return std::map<std::string, double>(figures.begin(), figures.end()); }
    static Json json(const Values& values) {
        Json out = Json::object();
        for (const auto& [key, value] : values)
            out[key] = object(value);
        return out;
    }
    template<class T>
    static Json json(const std::optional<T>& value) {
        return value ? json(*value) : Json();
    }
    template<class T>
    static Json json(const std::vector<T>& list) {
        Json out = Json::array();
        for (const T& one : list)
            out.push_back(json(one));
        return out;
    }
    static Json json(const auto& thing) { return object(thing); }

    Json out_ = Json::object();
};

// One item of the garage as the document has it. Throws InputError for a session or a pass.
[[nodiscard]] nlohmann::ordered_json exchangeJson(Connection& connection, Id id);

} // namespace rw::store
