// Texts numbered from 0 in order of first appearance.
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace rw {

class TextNumbers {
public:
    std::size_t number(std::string_view text) {
        // Neighbouring rows nearly always say the same.
        if (last_ < texts_.size() && texts_[last_] == text) return last_;
        const auto found = index_.find(text);
        if (found != index_.end()) return last_ = found->second;
        last_ = texts_.size();
        texts_.emplace_back(text);
        index_.emplace(texts_.back(), last_);
        return last_;
    }
    [[nodiscard]] const std::vector<std::string>& texts() const { return texts_; }

private:
    struct Hash {
        using is_transparent = void;
        std::size_t operator()(std::string_view text) const { return std::hash<std::string_view>()(text); }
    };
    std::vector<std::string> texts_;
    std::unordered_map<std::string, std::size_t, Hash, std::equal_to<>> index_;
    std::size_t last_ = 0;
};

} // namespace rw
